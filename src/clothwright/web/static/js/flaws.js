// @ts-check
// Flaws on the picture of a cloth: moved and sized by their knobs, drawn by pointer or set by keys.
import { named, REST_MS, saying, state } from "./cloth.js";
import { send } from "./edit.js";
import { follow, onDrawing } from "./fingers.js";
import { stepOf, written } from "./holds.js";
import { moveByKeys } from "./keys.js";
import { refresh } from "./morph.js";
import { arrow, boxOf, drawnRing, moved, pathOf, ringOf, sized } from "./flaw_rings.js";

/** @typedef {import("./flaw_rings.js").Ring} Ring */

const TOUCH_MM = 50.8;

/** @param {SVGElement} node */
const ends = (node) => ({ long: Number(node.dataset.long), wide: Number(node.dataset.wide) });

/** @param {SVGElement} node @param {number} dx @param {number} dy @param {Ring} from @returns {Ring} */
function changed(node, dx, dy, from) {
  const step = stepOf(state()?.unit ?? "mm", false);
  return (node.dataset.do === "size" ? sized : moved)(from, dx, dy, ends(node), step);
}

/** Draw a flaw as it would be, and say it. @param {SVGElement} node @param {Ring} ring */
function show(node, ring) {
  const size = node.dataset.do === "size";
  const [x0, y0, x1, y1] = boxOf(ring);
  const was = boxOf(ringOf(node.dataset.ring ?? ""));
  for (const path of node.querySelectorAll(".shown, .reach")) path.setAttribute("d", pathOf(ring));
  const shift = size ? [x1 - was[2], y1 - was[3]] : [x0 - was[0], y0 - was[1]];
  for (const part of node.querySelectorAll(".leader, circle")) {
    part.setAttribute("transform", `translate(${shift[0]} ${-shift[1]})`);
  }
  saying(size ? [x1 - x0, y1 - y0] : [x0, y0], ([along, across]) => {
    const words = size ? `${along} along by ${across} across` : `${along} from the cut end, ${across} from the lower selvedge`;
    return `${node.dataset.name}: ${words}`;
  });
}

/** @param {Ring} ring */
const asTyped = (ring) => ring.map(([x, y]) => [written(x), written(y)]);

/** @param {Ring} a @param {Ring} b */
const same = (a, b) => a.every(([x, y], n) => Math.abs(x - b[n][0]) < 1e-6 && Math.abs(y - b[n][1]) < 1e-6);

/** Send all flaws of the cloth as one step. @param {any} now @param {any[]} rows @param {string} words */
function kept(now, rows, words) {
  const edit = { edit: "set-cloth", cloth: now.cloth, values: { flaw: rows } };
  return send({ edit: "several", edits: [edit], words: `${now.cloth}: ${words}` });
}

/** Keep where a flaw is now. @param {SVGElement} node @param {Ring} ring */
async function keep(node, ring) {
  const now = state();
  const was = ringOf(node.dataset.ring ?? "");
  if (!now || same(ring, was)) return show(node, was);
  const at = Number(node.dataset.flaw);
  const rows = now.flaw.map((/** @type {any} */ row, /** @type {number} */ n) => (n === at ? { ...row, ring: asTyped(ring) } : row));
  const answer = await kept(now, rows, `${node.dataset.name} ${node.dataset.do === "size" ? "has another size" : "moved"}`);
  if (!answer.ok) {
    show(node, was);
    await refresh(["cloth"]);
    return;
  }
  const put = document.querySelector(`.spot[data-key="${CSS.escape(node.dataset.key ?? "")}"]`);
  const out = document.getElementById("hold-said");
  if (put && out) out.textContent = put.getAttribute("aria-label");
}

document.addEventListener("pointerdown", (event) => {
  const node = event.target instanceof Element ? event.target.closest(".spot") : null;
  if (!(node instanceof SVGElement) || event.button !== 0 || drawing()) return;
  event.preventDefault();
  node.focus();
  const from = onDrawing(node, event);
  const was = ringOf(node.dataset.ring ?? "");
  let ring = was;
  /** @param {PointerEvent} e */
  const move = (e) => {
    const to = onDrawing(node, e);
    show(node, (ring = changed(node, to.x - from.x, from.y - to.y, was)));
  };
  follow(node, event, move, (done) => (done ? keep(node, ring) : show(node, was)));
});

moveByKeys(".spot", {
  from: (node) => ringOf(node.dataset.ring ?? ""),
  by: (node, ring, event) => {
    const by = arrow(event.key, stepOf(state()?.unit ?? "mm", event.shiftKey));
    return by && changed(node, by[0], by[1], ring);
  },
  show,
  keep,
  giveUp: (node) => show(node, ringOf(node.dataset.ring ?? "")),
  rest: REST_MS,
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && drawing()) draw(false);
});

// --- a new one --------------------------------------------------------------------------------

const picture = () => document.querySelector(".cloth-table .cloth-pic");
const drawing = () => picture()?.classList.contains("drawing") ?? false;

/** @param {boolean} on */
function draw(on) {
  picture()?.classList.toggle("drawing", on);
  document.querySelector("[data-draw]")?.setAttribute("aria-pressed", String(on));
  const out = document.getElementById("hold-said");
  if (on && out) out.textContent = "Draw over the flaw on the picture, from corner to corner, or touch it once. Escape leaves it.";
}

/** Add a flaw with these corners, and take hold of it. @param {Ring} ring */
async function add(ring) {
  const now = state();
  draw(false);
  if (!now) return;
  const rows = [...now.flaw, named({ name: "flaw", ring: asTyped(ring) }, now.flaw)];
  const answer = await kept(now, rows, `${rows[rows.length - 1].name} marked`);
  if (!answer.ok) return;
  const knob = document.querySelector(`.spot[data-key="flaw.${rows.length - 1}.move"]`);
  if (knob instanceof SVGElement) knob.focus();
}

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-draw]") : null;
  if (!(button instanceof HTMLElement)) return;
  if (event instanceof MouseEvent && event.detail === 0) {
    const size = { long: Number(button.dataset.long), wide: Number(button.dataset.wide) };
    const middle = { x: size.long / 2, y: size.wide / 2 };
    add(drawnRing(middle, middle, size, stepOf(state()?.unit ?? "mm", false), TOUCH_MM));
  } else draw(!drawing());
});

document.addEventListener("pointerdown", (event) => {
  const svg = event.target instanceof Element ? event.target.closest(".cloth-pic.drawing") : null;
  const button = document.querySelector("[data-draw]");
  if (!(svg instanceof SVGSVGElement) || !(button instanceof HTMLElement) || event.button !== 0) return;
  event.preventDefault();
  event.stopPropagation();
  const size = { long: Number(button.dataset.long), wide: Number(button.dataset.wide) };
  const step = stepOf(state()?.unit ?? "mm", false);
  const place = (/** @type {PointerEvent} */ e) => {
    const at = onDrawing(svg, e);
    return { x: at.x, y: -at.y };
  };
  const from = place(event);
  const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
  path.setAttribute("class", "new-flaw");
  svg.append(path);
  let ring = drawnRing(from, from, size, step, TOUCH_MM);
  /** @param {PointerEvent} e */
  const move = (e) => path.setAttribute("d", pathOf((ring = drawnRing(from, place(e), size, step, TOUCH_MM))));
  follow(svg, event, move, (done) => {
    path.remove();
    if (done) add(ring);
  });
}, true);
