// @ts-check
// The cloth: handles dragged by pointer or keys, forms whose fields are entries of the workbook.
// Every drag ends as an edit with numbers that stand in the form below.
import { say, send } from "./edit.js";
import { dragByFinger, follow, onDrawing } from "./fingers.js";
import { moveByKeys } from "./keys.js";
import { refresh } from "./morph.js";
import { cornersOf, dragged, gathered, listOf, pressed, shift, stepOf, valuesFor, written } from "./holds.js";

/** @typedef {import("./holds.js").Hold} Hold */

/** The keys are done when they rest so long. */
export const REST_MS = 700;

/** @returns {Record<string, any> | null} */
export function state() {
  const box = document.getElementById("cloth-state");
  return box ? JSON.parse(box.dataset.state ?? "{}") : null;
}

/** @param {Element} node @returns {Hold} */
function holdOf(node) {
  const d = /** @type {SVGElement} */ (node).dataset;
  return { mm: Number(d.mm), axis: d.axis ?? "y", sign: Number(d.sign), least: Number(d.least), most: Number(d.most) };
}

/** Where it is while it is moved: drawn, and said (by the server, in the maker's unit).
 * @param {Element} node @param {number} mm */
function show(node, mm) {
  const at = shift(holdOf(node), mm);
  node.setAttribute("transform", `translate(${at.x} ${at.y})`);
  node.setAttribute("aria-valuenow", mm.toFixed(1));
  saying([mm], ([shown]) => {
    node.setAttribute("aria-valuetext", shown);
    return `${node.getAttribute("aria-label")}: ${shown}`;
  });
}

/** @param {number} mm @returns {Promise<string>} the length in the maker's unit */
async function shownAs(mm) {
  const book = encodeURIComponent(document.body.dataset.book ?? "");
  const answer = await fetch(`/b/${book}/length?text=${encodeURIComponent(written(mm))}`);
  return (await answer.json()).shown;
}

let turns = 0;

/** Say lengths under the drawing, in the maker's unit, unless others were said meanwhile.
 * @param {number[]} lengths mm @param {(shown: string[]) => string} words of these lengths as shown */
export async function saying(lengths, words) {
  const turn = ++turns;
  const shown = await Promise.all(lengths.map(shownAs)).catch(() => null); // said again with the next move
  const out = document.getElementById("hold-said");
  if (shown && out && turn === turns) out.textContent = words(shown);
}

/** @param {Element} node @param {number} mm */
async function keep(node, mm) {
  const now = state();
  if (!now || Math.abs(mm - holdOf(node).mm) < 1e-6) return;
  const key = /** @type {SVGElement} */ (node).dataset.key ?? "";
  const answer = await send({ edit: "set-cloth", cloth: now.cloth, values: valuesFor(key, mm, now.border) });
  const put = document.querySelector(`.hold[data-key="${CSS.escape(key)}"]`);
  if (!answer.ok || put === node) put?.removeAttribute("transform");
  if (!answer.ok) await refresh(["cloth"]);
}

document.addEventListener("pointerdown", (event) => {
  const node = event.target instanceof Element ? event.target.closest(".hold") : null;
  const unit = state()?.unit ?? "mm";
  if (!(node instanceof SVGElement) || event.button !== 0) return;
  event.preventDefault();
  node.focus();
  const from = onDrawing(node, event);
  const hold = holdOf(node);
  let mm = hold.mm;
  follow(
    node,
    event,
    (e) => show(node, (mm = dragged(hold, from, onDrawing(node, e), stepOf(unit, false)))),
    (kept) => (kept ? keep(node, mm) : node.removeAttribute("transform")),
  );
});

dragByFinger(".hold, .spot, .cloth-pic.drawing");

moveByKeys(".hold", {
  from: (node) => holdOf(node).mm,
  by: (node, mm, event) => pressed({ ...holdOf(node), mm }, event.key, event.shiftKey, state()?.unit ?? "mm"),
  show,
  keep,
  giveUp: (node) => show(node, holdOf(node).mm),
  rest: REST_MS,
});

/** What a field says; one that was not touched says exactly what it was, not what is shown of it.
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} field @returns {string} */
function saidBy(field) {
  const { exact } = field.dataset;
  const asItWas = !(field instanceof HTMLSelectElement) && field.value === field.defaultValue;
  return exact !== undefined && asItWas ? exact : field.value.trim();
}

/** A price as the workbook has it, of a metre; it is typed of a metre or of a yard.
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} field @returns {string} */
function priceOf(field) {
  const text = saidBy(field).replace(",", ".");
  const typed = Number(text) / Number(field.dataset.per);
  const asItWas = text === "" || text === field.dataset.exact || !Number.isFinite(typed);
  return asItWas ? text : String(Number(typed.toFixed(6)));
}

/** @param {HTMLFormElement} form @returns {[string, string | boolean | string[] | string[][]][]} */
function fieldsOf(form) {
  /** @type {[string, string | boolean | string[] | string[][]][]} */
  const out = [];
  for (const field of form.elements) {
    if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement || field instanceof HTMLTextAreaElement)) continue;
    if (!field.name || (field instanceof HTMLInputElement && field.type === "radio" && !field.checked)) continue;
    if (field instanceof HTMLInputElement && field.type === "checkbox") out.push([field.name, field.checked]);
    else if ("list" in field.dataset) out.push([field.name, listOf(saidBy(field))]);
    else if ("corners" in field.dataset) out.push([field.name, cornersOf(saidBy(field))]);
    else if ("number" in field.dataset) out.push([field.name, priceOf(field)]);
    else out.push([field.name, saidBy(field)]);
  }
  return out;
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.cloth === undefined) return;
  event.preventDefault();
  const values = gathered(fieldsOf(form));
  const answer = await send({ edit: "set-cloth", cloth: form.dataset.cloth, values });
  if (answer.ok && values.name && values.name !== form.dataset.cloth) goTo(values.name);
});

/** @param {string} name */
function goTo(name) {
  const url = new URL(location.href);
  url.searchParams.set("cloth", name);
  history.replaceState(null, "", url);
  refresh(["cloth"]);
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.edit !== "add-cloth") return;
  const name = String(new FormData(form).get("values.name") ?? "");
  const url = new URL(location.href);
  url.searchParams.set("cloth", name);
  history.replaceState(null, "", url);
});

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button[data-more], button[data-less]") : null;
  const now = state();
  if (!(button instanceof HTMLButtonElement) || !now) return;
  const what = button.dataset.more ?? button.dataset.less ?? "";
  /** @type {Record<string, any>[]} */
  let rows = now[what];
  if (button.dataset.more) rows = [...rows, named(now.fresh[what], rows)];
  else rows = rows.filter((_, n) => n !== Number(button.dataset.at));
  const values = what === "flaw" ? { flaw: rows } : { print: { [what]: rows } };
  send({ edit: "set-cloth", cloth: now.cloth, values }).then((answer) => answer.ok || say(answer.words, false));
});

/** @param {Record<string, any>} row @param {Record<string, any>[]} rows @returns {Record<string, any>} */
export function named(row, rows) {
  const names = rows.map((r) => r.name);
  let name = row.name;
  for (let n = 2; names.includes(name); n++) name = `${row.name} ${n}`;
  return { ...row, name };
}
