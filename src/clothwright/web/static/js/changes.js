// @ts-check
// The list of changes: switched, moved, taken out, edited and added; shown before it is saved.
import { once } from "./asking.js";
import { send } from "./edit.js";
import { follow } from "./fingers.js";
import { followForms, meant } from "./forms.js";

/** @param {HTMLFormElement} form */
async function preview(form) {
  const book = encodeURIComponent(document.body.dataset.book ?? "");
  const shown = form.querySelector("[data-shown]");
  const means = shown && (await meant(form));
  if (!means) return;
  const said = await once(`/b/${book}/changes/preview`, JSON.stringify(means.edit));
  const ok = said.sentence === undefined;
  const words = document.createElement("p");
  words.className = ok ? "words good" : "words bad";
  words.textContent = ok ? said.words : said.sentence;
  shown.replaceChildren(words);
  if (ok) shown.append(...new DOMParser().parseFromString(said.html, "text/html").body.childNodes);
}

followForms(async (form) => form.querySelector("[data-shown]")?.replaceChildren());

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
