// @ts-check
// The lay on the table: look nearer, drag a piece, push it by keys, pin it; tick the laying list.
// The server says where a piece may lie; here it is only shown and sent.
import { send } from "./edit.js";
import { heldBy } from "./keys.js";
import { lastOf } from "./latest.js";
import { refresh } from "./morph.js";
import { patiently } from "./patient.js";
import { say } from "./say.js";
import { dragged, factorOf, nearer, pushOf, scrollKeeping, shiftOf, spread, wheelFactor, wordsOf } from "./table.js";

/** @typedef {import("./table.js").Place} Place */
/** @typedef {{shape: string, x: number, y: number, turn: number, flipped: boolean, faults: string[], over: string[], may_pin: boolean}} Tried */
/** @typedef {{hold: SVGElement, start: Place, from: Place, screen: Place, moved: boolean, last: Tried | null}} Drag */

/** A pointer that moves less than this has pressed, not dragged (px). */
const PRESS = 5;
/** A piece pushed by keys is pinned when no key was pressed for this long. */
const REST_MS = 900;

const long = /** @type {HTMLElement | null} */ (document.getElementById("long"));
const base = `/b/${encodeURIComponent(document.body.dataset.book ?? "")}/cut`;
let zoom = 1;

/** How far a key pushes, in her unit said as mm. @param {boolean} far @returns {number} */
function stepOf(far) {
  const [near, wide] = (long?.dataset.steps ?? "1,10").split(",").map(Number);
  return far ? wide : near;
}

/** @returns {SVGSVGElement | null} */
function drawing() {
  return long?.querySelector("svg.lay") ?? null;
}

// --- looking nearer -------------------------------------------------------------------------------

/** @param {number} factor @param {Place} [at] the place of the window that stays */
function look(factor, at) {
  const svg = drawing();
  if (!long || !svg) return;
  const keep = at ?? { x: long.clientWidth / 2, y: long.clientHeight / 2 };
  const before = svg.getBoundingClientRect().width;
  zoom = nearer(zoom, factor);
  long.style.setProperty("--zoom", String(zoom));
  const grown = svg.getBoundingClientRect().width / before;
  long.scrollLeft = scrollKeeping(long.scrollLeft, keep.x, grown);
  long.scrollTop = scrollKeeping(long.scrollTop, keep.y, grown);
}

function whole() {
  const svg = drawing();
  if (long && svg) look((long.clientWidth - 4) / svg.getBoundingClientRect().width, { x: 0, y: 0 });
}

/** @param {{clientX: number, clientY: number}} event @returns {Place} */
function within(event) {
  const box = long?.getBoundingClientRect();
  return { x: event.clientX - (box?.left ?? 0), y: event.clientY - (box?.top ?? 0) };
}

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button[data-zoom]") : null;
  if (!(button instanceof HTMLElement)) return;
  if (button.dataset.zoom === "whole") whole();
  else look(factorOf(button.dataset.zoom ?? "in"));
});

long?.addEventListener(
  "wheel",
  (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    look(wheelFactor(event.deltaY), within(event));
  },
  { passive: false },
);

/** @param {TouchEvent} event @returns {{apart: number, at: Place}} */
function fingers(event) {
  const [a, b] = [event.touches[0], event.touches[1]].map(within);
  return { apart: spread(a, b), at: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 } };
}

let apart = 0;
long?.addEventListener(
  "touchstart",
  (event) => {
    if (drag && event.touches.length === 1) event.preventDefault(); // the piece moves, not the cloth
    if (event.touches.length !== 2) return;
    putBack();
    apart = fingers(event).apart;
  },
  { passive: false },
);
long?.addEventListener(
  "touchmove",
  (event) => {
    if (event.touches.length !== 2 || !apart) return;
    if (event.cancelable) event.preventDefault();
    const now = fingers(event);
    look(now.apart / apart, now.at);
    apart = now.apart;
  },
  { passive: false },
);
long?.addEventListener("touchend", () => (apart = 0));

// --- a piece and its place ------------------------------------------------------------------------

/** @param {string} shape @returns {SVGElement | null} */
function holdOf(shape) {
  return document.querySelector(`.hold[data-shape="${CSS.escape(shape)}"]`);
}

/** @param {SVGElement} hold @returns {Place} */
function placeOf(hold) {
  return { x: Number(hold.dataset.x), y: Number(hold.dataset.y) };
}

/** @type {WeakMap<Element, string>} */
const own = new WeakMap();

/** Show a piece's drawing moved; its hold stays under the finger.
 * @param {SVGElement} hold @param {Place} to @param {Place} [finger] */
function show(hold, to, finger = to) {
  const from = placeOf(hold);
  const group = CSS.escape(hold.dataset.shape ?? "");
  for (const node of drawing()?.querySelectorAll(`[data-group="${group}"]`) ?? []) {
    if (!own.has(node)) own.set(node, node.getAttribute("transform") ?? "");
    node.setAttribute("transform", shiftOf(from, to, own.get(node)));
  }
  hold.setAttribute("transform", shiftOf(from, finger));
  tellMoved(hold, to);
}

/** Tell the picture of the garment where a piece lies now. @param {SVGElement} hold @param {Place} to */
function tellMoved(hold, to) {
  const detail = { shape: hold.dataset.shape, x: to.x, y: to.y, turn: Number(hold.dataset.turn) };
  document.dispatchEvent(new CustomEvent("piece-moved", { detail }));
}

/** @param {SVGElement} hold */
function unshow(hold) {
  const group = CSS.escape(hold.dataset.shape ?? "");
  for (const node of drawing()?.querySelectorAll(`[data-group="${group}"]`) ?? []) {
    const was = own.get(node) ?? node.getAttribute("transform") ?? "";
    if (was && own.has(node)) node.setAttribute("transform", was);
    else if (own.has(node)) node.removeAttribute("transform");
  }
  hold.removeAttribute("transform");
  hold.classList.remove("moving", "clash");
  tellMoved(hold, placeOf(hold));
  mark([]);
}

document.addEventListener("morphed", (event) => {
  if (/** @type {CustomEvent} */ (event).detail !== "lay") return;
  for (const node of drawing()?.querySelectorAll("[data-group]") ?? []) own.delete(node);
});

/** @param {string[]} over the pieces that lie under it */
function mark(over) {
  for (const hold of document.querySelectorAll(".hold")) {
    hold.classList.toggle("clash", over.includes(/** @type {SVGElement} */ (hold).dataset.shape ?? ""));
  }
}

/** @param {string} words */
function trying(words) {
  const line = document.getElementById("trying");
  if (line && line.textContent !== words) line.textContent = words;
}

/** @param {Record<string, unknown>} where @returns {RequestInit} */
function asJson(where) {
  const headers = { "Content-Type": "application/json", Accept: "application/json" };
  return { method: "POST", headers, body: JSON.stringify(where) };
}

/** Ask about a place on the way; without a server there is no answer.
 * @param {Record<string, unknown>} where @returns {Promise<Tried>} */
async function post(where) {
  const answer = await fetch(`${base}/try`, asJson(where));
  const said = await answer.json();
  if (!answer.ok) throw new Error(said.sentence);
  return said;
}

/** Ask about a place where a piece was put: it waits for the server.
 * @param {Record<string, unknown>} where @returns {Promise<Tried>} */
async function put(where) {
  const { ok, said } = await patiently(`${base}/try`, asJson(where));
  if (!ok) throw new Error(said.sentence);
  return said;
}

const { ask } = lastOf(post);

/** @param {SVGElement} hold @param {Place} at */
function asked(hold, at) {
  const d = hold.dataset;
  return { shape: d.shape, x: at.x, y: at.y, turn: Number(d.turn), flipped: d.flipped === "yes" };
}

/** @param {SVGElement} hold @param {Tried} tried @param {Place} [finger] */
function take(hold, tried, finger) {
  show(hold, tried, finger);
  mark(tried.over);
  hold.classList.toggle("clash", tried.faults.length > 0);
  trying(wordsOf(tried));
}

/** @param {unknown} error */
function failed(error) {
  say(error instanceof Error ? error.message : String(error), false);
}

/** Pin a piece where it was tried, or put it back. @param {SVGElement} hold @param {Tried} tried */
async function pin(hold, tried) {
  if (!tried.may_pin) {
    unshow(hold);
    trying(`${wordsOf(tried)} It was put back.`);
    say(`${tried.faults[0]}; it was put back.`, false);
    return;
  }
  const d = hold.dataset;
  const answer = await send({
    edit: "pin-shape",
    plan: long?.dataset.plan ?? "",
    piece: d.piece,
    copy: Number(d.copy),
    cloth: d.cloth,
    x: tried.x,
    y: tried.y,
    turn_deg: tried.turn,
    flipped: tried.flipped,
  });
  if (answer.ok) hold.removeAttribute("transform");
  else unshow(hold);
  if (answer.ok) trying("");
  hold.classList.remove("moving");
}

// --- dragging -------------------------------------------------------------------------------------

/** @type {Drag | null} */
let drag = null;
/** @type {{x: number, y: number, left: number, top: number} | null} */
let pan = null;
let pressed = false;

/** @param {PointerEvent} event @returns {Place} */
function onDrawing(event) {
  const matrix = drawing()?.getScreenCTM();
  const at = new DOMPoint(event.clientX, event.clientY);
  return matrix ? at.matrixTransform(matrix.inverse()) : at;
}

long?.addEventListener("pointerdown", (event) => {
  if (event.button !== 0 || !(event.target instanceof Element)) return;
  const hold = event.target.closest(".hold");
  pressed = false;
  if (hold instanceof SVGElement) {
    const finger = event.pointerType === "touch" && !hold.classList.contains("chosen");
    if (finger || pushed.node()) return; // a piece that is not chosen is no hindrance to the finger that pushes the cloth
    if (hold.dataset.cut === "yes") return; // what is cut lies where it lies
    hold.setPointerCapture(event.pointerId);
    drag = { hold, start: placeOf(hold), from: onDrawing(event), screen: { x: event.clientX, y: event.clientY }, moved: false, last: null };
  } else if (event.pointerType === "mouse" && long) {
    pan = { x: event.clientX, y: event.clientY, left: long.scrollLeft, top: long.scrollTop };
  }
});

document.addEventListener("pointermove", (event) => {
  if (pan && long) {
    long.scrollLeft = pan.left - (event.clientX - pan.x);
    long.scrollTop = pan.top - (event.clientY - pan.y);
  }
  const now = drag;
  if (!now) return;
  if (!now.moved && spread(now.screen, { x: event.clientX, y: event.clientY }) < PRESS) return;
  now.moved = true;
  now.hold.classList.add("moving");
  const to = dragged(now.start, now.from, onDrawing(event));
  show(now.hold, now.last ?? to, to);
  ask(asked(now.hold, to)).then((tried) => {
    if (!tried || drag !== now) return;
    now.last = tried;
    take(now.hold, tried, to);
  }, () => {});
});

document.addEventListener("pointerup", async (event) => {
  pan = null;
  const now = drag;
  drag = null;
  if (!now?.moved) return;
  pressed = true;
  try {
    const tried = await put(asked(now.hold, dragged(now.start, now.from, onDrawing(event))));
    take(now.hold, tried);
    await pin(now.hold, tried);
  } catch (error) {
    unshow(now.hold);
    failed(error);
  }
});

function putBack() {
  pan = null;
  if (drag) unshow(drag.hold);
  drag = null;
}

document.addEventListener("pointercancel", putBack);

/** Choose a piece: it is shown beside the table, and the finger may drag it.
 * @param {SVGElement} hold */
async function choose(hold) {
  const url = new URL(hold.dataset.href ?? "", location.href);
  history.replaceState(null, "", url);
  await refresh(["lay", "list", "one"], url.href);
}

long?.addEventListener("click", (event) => {
  const hold = event.target instanceof Element ? event.target.closest(".hold") : null;
  if (hold instanceof SVGElement && !pressed) choose(hold);
});

// --- keys and buttons -----------------------------------------------------------------------------

const pushed = heldBy({
  keep: (hold, /** @type {{at: Place, tried: Tried | null}} */ { at, tried }) => {
    const from = placeOf(hold);
    const went = Math.abs(at.x - from.x) + Math.abs(at.y - from.y) > 1e-6;
    return tried && went ? pin(hold, tried) : unshow(hold);
  },
  giveUp: unshow,
  rest: REST_MS,
});

/** @type {Promise<void>} */
let pushes = Promise.resolve();

/** Push a piece, after the pushes before; when it has rested for a moment it is pinned.
 * @param {SVGElement} hold @param {Place} by @returns {Promise<void>} */
function push(hold, by) {
  pushed.pause();
  return (pushes = pushes.then(() => pushOne(hold, by)));
}

/** @param {SVGElement} hold @param {Place} by */
async function pushOne(hold, by) {
  if (pushed.node() !== hold) await pushed.settle();
  const { at, tried: before } = pushed.at(hold) ?? { at: placeOf(hold), tried: null };
  pushed.hold(hold, { at, tried: before });
  pushed.pause();
  const d = hold.dataset;
  const where = { shape: d.shape, turn: Number(d.turn), flipped: d.flipped === "yes", x: at.x + by.x, y: at.y + by.y };
  try {
    const tried = await put({ ...where, step_x: by.x, step_y: by.y, from_x: at.x, from_y: at.y });
    if (pushed.node() !== hold) return; // put back or kept meanwhile
    hold.classList.add("moving");
    take(hold, tried);
    if (Math.abs(tried.x - at.x) + Math.abs(tried.y - at.y) < 1e-6) trying("It stays: the plan holds it on this line.");
    pushed.hold(hold, { at: { x: tried.x, y: tried.y }, tried });
  } catch (error) {
    pushed.drop();
    unshow(hold);
    failed(error);
  }
}

document.addEventListener("keydown", (event) => {
  if (!(event.target instanceof Element) || event.ctrlKey || event.metaKey || event.altKey) return;
  const hold = event.target.closest(".hold");
  if (event.target.closest(".long")) {
    if (event.key === "+" || event.key === "=") look(factorOf("in"));
    else if (event.key === "-") look(factorOf("out"));
    else if (event.key === "0") whole();
  }
  if (!(hold instanceof SVGElement)) return;
  const by = pushOf(event.key, stepOf(event.shiftKey));
  if (by) {
    event.preventDefault();
    push(hold, by);
  } else if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    choose(hold);
  } else if (event.key === "Escape" && pushed.node() === hold) {
    pushed.drop();
    unshow(hold);
    trying("Put back.");
  }
});

document.addEventListener("click", async (event) => {
  const button = event.target instanceof Element ? event.target.closest("button") : null;
  const d = button?.dataset;
  if (!d) return;
  const hold = holdOf(d.for ?? d.turn ?? d.pin ?? d.unpin ?? "");
  if (!hold) return;
  try {
    if (d.nudge) {
      const [x, y] = d.nudge.split(",").map(Number);
      await push(hold, { x, y });
    } else if (d.turn) {
      const tried = await put({ shape: d.turn, next: true });
      trying(wordsOf(tried));
      await pin(hold, tried);
    } else if (d.pin) {
      await pushed.settle();
      await pin(hold, await put(asked(hold, placeOf(hold))));
    } else if (d.unpin) {
      await send({ edit: "unpin-shape", plan: long?.dataset.plan ?? "", piece: hold.dataset.piece, copy: Number(hold.dataset.copy) });
    }
  } catch (error) {
    failed(error);
  }
});

// --- laying, ticks --------------------------------------------------------------------------------

/** @param {string} to @param {Record<string, string>} fields @returns {Promise<{ok: boolean, words: string}>} */
async function tell(to, fields) {
  const body = new URLSearchParams({ ...fields, by: "script" });
  try {
    const { ok, said } = await patiently(to, { method: "POST", headers: { Accept: "application/json" }, body });
    return { ok, words: ok ? said.words : said.sentence };
  } catch (error) {
    return { ok: false, words: error instanceof Error ? error.message : String(error) };
  }
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.press === undefined) return;
  event.preventDefault();
  await pushed.settle();
  const to = event.submitter?.getAttribute("formaction") ?? form.getAttribute("action") ?? "";
  const told = await tell(to, {});
  say(told.words, told.ok);
});

document.addEventListener("change", async (event) => {
  const box = event.target;
  if (!(box instanceof HTMLInputElement) || !box.dataset.tick) return;
  const list = box.closest("[data-lay]");
  const lay = list instanceof HTMLElement ? list.dataset.lay ?? "" : "";
  const done = box.checked;
  const told = await tell(`${base}/tick`, { key: box.dataset.tick, done: done ? "yes" : "no", lay });
  if (told.ok) return;
  box.checked = !done;
  say(told.words, false);
});

document.addEventListener("live:progress", (event) => {
  const told = /** @type {CustomEvent} */ (event).detail;
  const bar = document.getElementById("lay-share");
  if (told.topic === "lay" && bar instanceof HTMLProgressElement && typeof told.share === "number") bar.value = told.share;
});
