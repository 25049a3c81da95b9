// @ts-check
// Pairs of edges: what is said to one is saved at once; the reader goes on to the next.
import { fieldsOf, post } from "./asking.js";
import { moveTo } from "./live.js";
import { refresh } from "./morph.js";

/** @param {HTMLFormElement} form @param {HTMLElement | null} pressed */
async function tell(form, pressed) {
  const told = await post(form.action, fieldsOf(form, pressed));
  if (!told) return;
  await moveTo(told.revision);
  await refresh(["table", "own", "seams", "together"]);
  document.getElementById("pairs")?.focus({ preventScroll: true });
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.say === undefined) return;
  event.preventDefault();
  tell(form, event.submitter);
});
