// @ts-check
// The list of changes: switched, moved, taken out, edited and added; shown before it is saved.
import { once } from "./asking.js";
import { send } from "./edit.js";
import { follow } from "./fingers.js";

/** What is typed instead of chosen. @param {HTMLFormElement} form @param {string} name */
function typed(form, name) {
  const field = form.querySelector(`[data-typed="${CSS.escape(name)}"]`);
  return field instanceof HTMLInputElement ? field.value.trim() : "";
}

/** What a field says; a size at each level is said as one text: "waist 12, hip 14".
 * @param {HTMLElement} field @returns {string} */
function value(field) {
  if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) return field.value.trim();
  const levels = [...field.querySelectorAll("select")].filter((level) => level.value);
  return levels.map((level) => `${level.dataset.level} ${level.value}`).join(", ");
}

/** @param {HTMLFormElement} form @returns {Record<string, unknown>} */
function edit(form) {
  const set = form.dataset.set;
  /** @type {Record<string, unknown>} */
  const params = {};
  form.querySelectorAll("[data-param]").forEach((field) => {
    if (!(field instanceof HTMLElement)) return;
    const name = field.dataset.param ?? "";
    const text = typed(form, name) || value(field);
    if (text) params[name] = text;
    else if (set) params[name] = null;
  });
  form.querySelectorAll("[data-many]").forEach((many) => {
    if (!(many instanceof HTMLElement)) return;
    const ticked = [...many.querySelectorAll("input:checked")].map((box) => /** @type {HTMLInputElement} */ (box).value);
    if (ticked.length) params[many.dataset.many ?? ""] = ticked;
    else if (set) params[many.dataset.many ?? ""] = null;
  });
  if (set) return { edit: "set-change", change: set, params };
  const why = form.querySelector("[data-why]");
  return { edit: "add-change", kind: form.dataset.add, params, why: why instanceof HTMLInputElement ? why.value : "" };
}

/** @param {HTMLFormElement} form */
async function preview(form) {
  const book = encodeURIComponent(document.body.dataset.book ?? "");
  const shown = form.querySelector("[data-shown]");
  if (!shown) return;
  const said = await once(`/b/${book}/changes/preview`, JSON.stringify(edit(form)));
  const ok = said.sentence === undefined;
  const words = document.createElement("p");
  words.className = ok ? "words good" : "words bad";
  words.textContent = ok ? said.words : said.sentence;
  shown.replaceChildren(words);
  if (ok) shown.append(...new DOMParser().parseFromString(said.html, "text/html").body.childNodes);
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !(form.dataset.set || form.dataset.add)) return;
  event.preventDefault();
  const answer = await send(edit(form));
  if (!answer.ok) return;
  form.querySelector("[data-shown]")?.replaceChildren();
  if (form.dataset.add) form.reset();
});

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button") : null;
  if (!button) return;
  const { move, to, remove } = button.dataset;
  if (move) send({ edit: "move-change", change: move, to: Number(to) });
  if (remove) send({ edit: "remove-change", change: remove });
  if ("preview" in button.dataset && button.form) preview(button.form);
});

document.addEventListener("change", async (event) => {
  const box = event.target;
  if (!(box instanceof HTMLInputElement) || !box.dataset.switch) return;
  const answer = await send({ edit: "switch-change", change: box.dataset.switch, on: box.checked });
  if (!answer.ok) box.checked = !box.checked;
});

/** @param {string} id @returns {HTMLElement | null} */
const card = (id) => document.querySelector(`[data-change="${CSS.escape(id)}"]`);

/** @param {string} id @param {number} to */
function move(id, to) {
  const here = Number(card(id)?.dataset.number);
  if (to === here || to < 1 || to > document.querySelectorAll("[data-change]").length) return;
  send({ edit: "move-change", change: id, to });
}

document.addEventListener("keydown", (event) => {
  const grip = event.target instanceof HTMLElement ? event.target.dataset.grip : "";
  if (!grip || (event.key !== "ArrowUp" && event.key !== "ArrowDown")) return;
  event.preventDefault();
  move(grip, Number(card(grip)?.dataset.number) + (event.key === "ArrowUp" ? -1 : 1));
});

document.addEventListener("pointerdown", (event) => {
  const grip = event.target instanceof Element ? event.target.closest("[data-grip]") : null;
  if (!(grip instanceof HTMLElement) || event.button !== 0) return;
  /** @type {HTMLElement | null} */
  let aim = null;
  const over = (/** @type {PointerEvent} */ at) => {
    aim?.classList.remove("aim");
    const under = document.elementFromPoint(at.clientX, at.clientY)?.closest("[data-change]");
    aim = under instanceof HTMLElement ? under : null;
    aim?.classList.add("aim");
  };
  follow(grip, event, over, (kept) => {
    aim?.classList.remove("aim");
    if (kept && aim) move(grip.dataset.grip ?? "", Number(aim.dataset.number));
  });
});
