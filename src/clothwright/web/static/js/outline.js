// @ts-check
// The outline over the flat photo: points dragged by mouse, finger or keys, each saved at once. While
// a point moves the server says how the line would run, one question under way at a time.
import { fieldsOf, once } from "./asking.js";
import { say } from "./edit.js";
import { follow, onDrawing } from "./fingers.js";
import { heldBy } from "./keys.js";
import { lastOf } from "./latest.js";
import { refresh } from "./morph.js";
import { Away, patiently } from "./patient.js";
import { fitting, keyed, ringStep, spotText, stepOf, within, wrongPhotos, zoomed } from "./spots.js";
import { atWork } from "./working.js";

/** @typedef {import("./spots.js").Spot} Spot */

const PARTS = ["outline", "table", "sitting", "inbox"];
const MOST = 5;
/** What is said once the page is there that shows it. */
const LATER = "clothwright-photos-said";
/** mm of the photo that the magnifier shows. */
const LOUPE_MM = 20;

let zoom = 1;
let hidden = false;
/** The chosen point, by its place on the line as found. */
let chosen = "";

/** @returns {HTMLElement | null} */
const board = () => document.getElementById("outline");
/** @returns {SVGSVGElement | null} */
function pic() {
  const it = document.getElementById("outline-pic");
  return it instanceof SVGSVGElement ? it : null;
}
/** @returns {SVGGElement[]} */
const knobs = () => [...document.querySelectorAll("#outline-pic .knob")].filter((k) => k instanceof SVGGElement);
const knobOf = (/** @type {string} */ at) => knobs().find((k) => k.dataset.at === at) ?? null;
/** @param {SVGElement} knob @returns {Spot} */
const placeOf = (knob) => ({ x: Number(knob.dataset.x), y: Number(knob.dataset.y) });
const sizeOf = () => ({ wide: Number(board()?.dataset.wide), tall: Number(board()?.dataset.tall) });

let last = "";

/** @param {string} words */
function told(words) {
  last = words;
  const line = document.getElementById("outline-said");
  if (line) line.textContent = words;
}

// --- what is sent --------------------------------------------------------------------------------

/** @type {Promise<unknown>} */
let queue = Promise.resolve();

/** Say one thing about the outline; it is kept when this is done.
 * @param {Record<string, string>} what @param {string} [to] @returns {Promise<boolean>} */
function keep(what, to = board()?.dataset.outline ?? "") {
  const turn = queue.then(async () => {
    try {
      const body = new URLSearchParams({ ...what, by: "script" });
      const { ok, said } = await patiently(to, { method: "POST", headers: { Accept: "application/json" }, body });
      await refresh(["outline"]);
      say(ok ? said.words : said.sentence, ok);
      if (ok) told(said.words);
      if (!ok || !("live" in document.documentElement.dataset)) await refresh(PARTS.slice(1));
      return ok; // else the server's own news brings the other parts
    } catch (error) {
      say(error instanceof Away ? error.message : "This was not saved. Repeat it.", false);
      await refresh(PARTS).catch(() => {});
      return false;
    }
  });
  queue = turn.catch(() => {});
  return turn;
}

const questions = lastOf(async (/** @type {{at: string, to: string}} */ what) => {
  const address = (board()?.dataset.outline ?? "").replace("/outline?", "/outline/try?");
  const answer = await fetch(address, { method: "POST", headers: { Accept: "application/json" }, body: new URLSearchParams(what) }).catch(() => null);
  return answer?.json().catch(() => null);
});

/** @param {string} at @param {Spot} to */
async function ask(at, to) {
  const said = await questions.ask({ at, to: spotText(to) });
  if (!said) return;
  const ok = said.sentence === undefined;
  if (ok) line(said.line);
  told(ok ? `${said.words[0].toUpperCase()}${said.words.slice(1)}; ${said.place}.` : said.sentence);
}

/** @param {string} d */
function line(d) {
  for (const id of ["outline-line", "outline-halo"]) document.getElementById(id)?.setAttribute("d", d);
}

// --- what is seen --------------------------------------------------------------------------------

/** @param {SVGElement} knob @param {Spot} to */
function put(knob, to) {
  const { wide, tall } = sizeOf();
  const at = within(to, wide, tall);
  knob.setAttribute("transform", `translate(${at.x.toFixed(3)} ${(-at.y).toFixed(3)})`);
  knob.setAttribute("aria-valuenow", at.x.toFixed(1));
  knob.dataset.x = at.x.toFixed(3);
  knob.dataset.y = at.y.toFixed(3);
  magnify(at);
  return at;
}

/** @param {Spot} at */
function magnify(at) {
  const loupe = document.getElementById("loupe");
  const svg = pic();
  if (!(loupe instanceof SVGSVGElement) || !svg) return;
  const r = LOUPE_MM / 2;
  loupe.setAttribute("viewBox", `${at.x - r} ${-at.y - r} ${LOUPE_MM} ${LOUPE_MM}`);
  document.getElementById("loupe-cross")?.setAttribute("d", `M ${at.x - r} ${-at.y} h ${LOUPE_MM} M ${at.x} ${-at.y - r} v ${LOUPE_MM}`);
  loupe.removeAttribute("hidden");
  const frame = loupe.parentElement?.getBoundingClientRect();
  const screen = new DOMPoint(at.x, -at.y).matrixTransform(svg.getScreenCTM() ?? undefined);
  if (frame) loupe.classList.toggle("left", screen.y - frame.top < 200 && screen.x > frame.left + frame.width / 2);
}

/** What was in the middle when the window had another size. @type {Spot | null} */
let seen = null;

/** Choose a point. @param {SVGElement | null} knob */
function choose(knob) {
  chosen = knob?.dataset.at ?? "";
  for (const k of knobs()) {
    k.classList.toggle("chosen", k === knob);
    k.setAttribute("tabindex", k === knob ? "0" : "-1");
  }
  if (!knob && knobs()[0]) knobs()[0].setAttribute("tabindex", "0");
  for (const button of document.querySelectorAll("[data-nudge], [data-do]")) {
    if (button instanceof HTMLButtonElement) button.disabled = !knob;
  }
  const words = document.querySelector('[data-do="out"] [data-words]');
  const kind = knob?.dataset.kind ?? "found";
  if (words) words.textContent = { found: "Take this point away", hand: "Take my correction back", gone: "Bring the point back" }[kind] ?? "";
  if (knob) magnify(placeOf(knob));
  else document.getElementById("loupe")?.setAttribute("hidden", "");
}

/** Show the picture at the zoom, with a place in the middle. @param {Spot | null} middle */
function draw(middle) {
  const svg = pic();
  const view = svg?.parentElement;
  if (!svg || !view) return;
  const { wide, tall } = sizeOf();
  svg.classList.toggle("near", zoom > 1);
  document.querySelector(".outline-frame")?.classList.toggle("bare", hidden);
  document.querySelector("[data-hide]")?.setAttribute("aria-pressed", String(hidden));
  const part = window.innerWidth <= 640 ? 0.66 : 0.74;
  const fit = fitting(wide, tall, view.clientWidth, window.innerHeight * part);
  svg.style.width = zoom > 1 ? `${fit.width * zoom}px` : "";
  svg.style.height = zoom > 1 ? `${fit.height * zoom}px` : "";
  for (const text of svg.querySelectorAll("text")) text.setAttribute("font-size", String(16 / (fit.scale * zoom)));
  for (const button of document.querySelectorAll("[data-zoom]")) {
    if (button instanceof HTMLButtonElement) button.disabled = Number(button.dataset.zoom) !== 0 && zoomed(zoom, Number(button.dataset.zoom)) === zoom;
  }
  seen = middle ?? seen;
  if (middle && zoom > 1) {
    view.scrollLeft = middle.x * fit.scale * zoom - view.clientWidth / 2;
    view.scrollTop = (tall - middle.y) * fit.scale * zoom - view.clientHeight / 2;
  }
}

/** The place in the middle of what is seen, or the chosen point. @returns {Spot} */
function middle() {
  const knob = knobOf(chosen);
  if (knob) return placeOf(knob);
  const svg = pic();
  const view = svg?.parentElement?.getBoundingClientRect();
  if (!svg || !view) return { x: 0, y: 0 };
  const at = new DOMPoint(view.left + view.width / 2, view.top + view.height / 2).matrixTransform(svg.getScreenCTM()?.inverse());
  return { x: at.x, y: -at.y };
}

/** The place that was shown last. */
let shown = "";

/** Show a place, of several the one after that which was shown last. @param {string} places "x,y x,y" */
function showPlace(places) {
  const all = places.trim().split(" ");
  shown = all[(all.indexOf(shown) + 1) % all.length];
  const [x, y] = shown.split(",").map(Number);
  const spot = { x, y };
  const far = (/** @type {SVGElement} */ k) => Math.hypot(placeOf(k).x - x, placeOf(k).y - y);
  const near = knobs().sort((a, b) => far(a) - far(b))[0];
  if (near && far(near) < 25) choose(near);
  zoom = Math.max(zoom, 4);
  draw(spot);
  board()?.querySelector(".outline-frame")?.scrollIntoView({ block: "nearest" });
  if (near && far(near) < 25) near.focus({ preventScroll: true });
}

// --- by keys and buttons -------------------------------------------------------------------------

const moving = heldBy({
  keep: (knob, /** @type {Spot} */ to) => {
    questions.forget();
    keep({ what: "move", at: knob.dataset.at ?? "", to: spotText(to) });
  },
  giveUp,
  rest: 900,
});

function giveUp() {
  moving.drop();
  questions.forget();
  refresh(["outline"]);
  told("Given up; nothing was changed.");
}

/** @param {string} key @param {boolean} far */
function nudge(key, far) {
  const knob = knobOf(chosen);
  const by = keyed(key, stepOf(board()?.dataset.unit ?? "mm", far));
  if (!knob || !by) return false;
  const from = moving.at(knob) ?? placeOf(knob);
  const to = put(knob, { x: from.x + by.x, y: from.y + by.y });
  moving.hold(knob, to);
  ask(chosen, to);
  return true;
}

/** @param {number} by */
function walk(by) {
  moving.settle();
  const all = knobs();
  const at = ringStep(all.findIndex((k) => k.dataset.at === chosen), by, all.length);
  const knob = all[at];
  if (!knob) return;
  choose(knob);
  if (zoom > 1) draw(placeOf(knob));
  told(`${knob.getAttribute("aria-label")}: ${knob.getAttribute("aria-valuetext")}`);
  return knob;
}

function takeAway() {
  const knob = knobOf(chosen);
  if (!knob) return;
  moving.drop();
  const what = knob.dataset.kind === "found" ? "out" : "back";
  keep({ what, at: chosen });
}

document.addEventListener(
  "keydown",
  (event) => {
    const target = event.target instanceof Element ? event.target : null;
    const inside = target?.closest("#outline");
    if (!inside) return;
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
      event.preventDefault();
      event.stopImmediatePropagation();
      step(event.shiftKey ? "redo" : "undo");
      return;
    }
    const knob = target?.closest(".knob");
    if (!(knob instanceof SVGElement) || event.ctrlKey || event.metaKey || event.altKey) return;
    if (knob.dataset.at !== chosen) choose(knob);
    if (event.key === "PageDown" || event.key === "PageUp") walk(event.key === "PageDown" ? 1 : -1)?.focus({ preventScroll: zoom > 1 });
    else if (event.key === "Enter") moving.settle();
    else if (event.key === "Escape") giveUp();
    else if (event.key === "Delete" || event.key === "Backspace") takeAway();
    else if (event.key === "+" || event.key === "-") magnifyBy(event.key === "+" ? 1 : -1);
    else if (!nudge(event.key, event.shiftKey)) return;
    event.preventDefault();
  },
  true,
);
/** The point that has the keys; a point drawn anew at another place in the list gets them back. */
let keyedPoint = "";
document.addEventListener("focusin", (event) => {
  const knob = event.target instanceof Element ? event.target.closest("#outline-pic .knob") : null;
  keyedPoint = knob instanceof SVGElement ? (knob.dataset.at ?? "") : "";
  if (knob instanceof SVGElement && knob.dataset.at !== chosen) choose(knob);
});

/** @param {"undo" | "redo" | "all-back"} what */
function step(what) {
  if (moving.node()) return giveUp();
  keep({ what, have: board()?.dataset.have ?? "0" });
}

/** @param {number} by */
function magnifyBy(by) {
  const at = middle();
  zoom = zoomed(zoom, by);
  draw(at);
  const knob = knobOf(chosen);
  if (knob) magnify(placeOf(knob));
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  if (target?.id === "outline-reach" && event instanceof MouseEvent) {
    const at = onPhoto(event);
    if (at) keep({ what: "add", at: spotText(at) });
    return;
  }
  const whole = target?.closest("#whole-pic");
  if (whole instanceof SVGSVGElement && event instanceof MouseEvent) {
    told("Looking for the piece there …");
    say("Looking for the piece there …", true);
    keep({ what: "inside", at: spotText(placeOn(whole, event)) }, whole.dataset.to);
    return;
  }
  const button = target?.closest("button");
  if (!(button instanceof HTMLButtonElement)) return;
  const { zoom: by, walk: go, nudge: key, do: what, step: way, show, tick, said, across, hide } = button.dataset;
  if (by !== undefined) magnifyBy(Number(by));
  else if (go !== undefined) walk(Number(go));
  else if (key !== undefined) nudge(key, event.shiftKey);
  else if (what === "after") keep({ what, at: chosen });
  else if (what === "out") takeAway();
  else if (way === "undo" || way === "redo" || way === "all-back") step(way);
  else if (show !== undefined) showPlace(show);
  else if (tick !== undefined) keep({ what: "tick", doubt: tick, said: said ?? "" });
  else if (across !== undefined) keep({ what: "across", doubt: across });
  else if (hide !== undefined) {
    hidden = !hidden;
    draw(null);
  }
});

// --- by mouse and finger -------------------------------------------------------------------------

/** A place on a picture, mm, y up. @param {SVGSVGElement} svg @param {MouseEvent} event @returns {Spot} */
function placeOn(svg, event) {
  const at = onDrawing(svg, event);
  return { x: at.x, y: -at.y };
}

/** @param {MouseEvent} event @returns {Spot | null} */
function onPhoto(event) {
  const svg = pic();
  return svg && placeOn(svg, event);
}

document.addEventListener("pointerdown", (event) => {
  keyedPoint = "";
  const knob = event.target instanceof Element ? event.target.closest("#outline-pic .knob") : null;
  if (!(knob instanceof SVGElement) || event.button !== 0) return;
  event.preventDefault();
  moving.settle();
  choose(knob);
  knob.focus({ preventScroll: true });
  const from = onPhoto(event);
  const begun = placeOf(knob);
  const at = knob.dataset.at ?? "";
  /** @type {Spot | null} */
  let to = null;
  const begin = { x: event.clientX, y: event.clientY };
  /** @param {PointerEvent} e */
  const move = (e) => {
    const now = onPhoto(e);
    if (!from || !now || (!to && Math.hypot(e.clientX - begin.x, e.clientY - begin.y) < 3)) return;
    to = put(knob, { x: begun.x + now.x - from.x, y: begun.y + now.y - from.y });
    ask(at, to);
  };
  follow(knob, event, move, (kept) => {
    questions.forget();
    if (!to) return;
    if (kept) keep({ what: "move", at, to: spotText(to) });
    else giveUp();
  });
});

// --- photos --------------------------------------------------------------------------------------

/** Send photos one after the other; what is wrong with one does not keep the others back.
 * @param {HTMLFormElement} form */
async function sendPhotos(form) {
  const field = form.querySelector("input[type=file]");
  const files = field instanceof HTMLInputElement ? [...(field.files ?? [])] : [];
  const wrong = wrongPhotos(files, MOST);
  if (wrong) return say(wrong, false);
  const here = form.dataset.photos ?? "";
  let piece = form.dataset.piece ?? "";
  let came = 0;
  const work = atWork(form);
  /** @type {string[]} */
  const trouble = [];
  for (const [k, file] of files.entries()) {
    if (work.signal.aborted) break;
    work.say(`Sending ${file.name}, ${k + 1} of ${files.length} …`);
    const query = new URLSearchParams({ name: file.name, ...(piece ? { drawing: piece } : {}) });
    const said = await once(`${here}/photo?${query}`, file, work.signal);
    if (said.drawing) {
      piece = said.drawing;
      came += 1;
    } else trouble.push(said.sentence);
  }
  if (!came) {
    work.done();
    return say(trouble.join(" "), false);
  }
  work.say(`Putting ${came === 1 && !form.dataset.piece ? "it on the table" : "the photos together"}; this takes some seconds a photo …`);
  const to = `${here}/outline?${new URLSearchParams({ drawing: piece })}`;
  const bar = form.querySelector("input[name=bar]");
  if (bar instanceof HTMLInputElement && bar.value.trim()) {
    const said = await once(to, new URLSearchParams({ what: "bar", bar: bar.value, by: "script" }), work.signal);
    if (said.sentence) trouble.push(said.sentence);
  }
  const solved = work.signal.aborted ? {} : await once(to, new URLSearchParams({ what: "solve", by: "script" }), work.signal);
  if (solved.sentence) trouble.push(solved.sentence);
  work.done();
  const words = trouble.length ? `${trouble.join(" ")} ${came === 1 ? "The photo that came waits below." : "The photos that came wait below."}` : solved.words;
  if (!form.dataset.piece) {
    sessionStorage.setItem(LATER, JSON.stringify({ words, ok: !trouble.length }));
    return location.assign(`${here}?${new URLSearchParams({ drawing: piece })}#outline`);
  }
  form.reset();
  await refresh(PARTS);
  say(words, !trouble.length);
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  if (form.dataset.photos !== undefined) {
    event.preventDefault();
    sendPhotos(form);
  } else if (form.dataset.say !== undefined) {
    event.preventDefault();
    keep(Object.fromEntries(fieldsOf(form, event.submitter)), form.action);
  }
});

// --- follow --------------------------------------------------------------------------------------

document.addEventListener("morphed", (event) => {
  if (!(event instanceof CustomEvent) || event.detail !== "outline") return;
  draw(null);
  choose(knobOf(chosen));
  const knob = knobOf(chosen);
  const to = knob && moving.at(knob);
  if (knob && to) put(knob, to);
  if (last) told(last);
  if (keyedPoint && document.activeElement === document.body) knobOf(keyedPoint)?.focus({ preventScroll: true });
});
document.addEventListener("scrollend", () => (seen = pic() ? middle() : null), true);
addEventListener("resize", () => draw(seen));
draw(null);
choose(null);
const later = sessionStorage.getItem(LATER);
if (later) {
  sessionStorage.removeItem(LATER);
  const { words, ok } = JSON.parse(later);
  say(words, ok);
}
