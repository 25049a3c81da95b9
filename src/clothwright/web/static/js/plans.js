// @ts-check
// The plans: buttons that begin, stop or take something, and how far the searches are.
import { fieldsOf, post } from "./asking.js";

/** Words of progress are put where they are read aloud no more often than this. */
const ALOUD_MS = 5000;
let aloud = 0;

/** @param {HTMLFormElement} form @param {HTMLElement | null} pressed */
async function tell(form, pressed) {
  const to = pressed?.getAttribute("formaction") ?? form.getAttribute("action") ?? "";
  const told = await post(to, fieldsOf(form, pressed));
  if (told && form.dataset.clear !== undefined) form.reset();
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.post === undefined) return;
  event.preventDefault();
  tell(form, event.submitter);
});

document.addEventListener("live:progress", (event) => {
  const told = /** @type {CustomEvent} */ (event).detail;
  if (told.topic !== "lay") return;
  for (const bar of document.querySelectorAll("progress[data-plan]")) {
    const mine = bar instanceof HTMLProgressElement && told.words.startsWith(`${bar.dataset.plan}:`);
    if (mine && typeof told.share === "number") bar.value = told.share;
  }
  const line = document.getElementById("lay-told");
  const now = Date.now();
  if (line && line.textContent !== told.words && (now - aloud > ALOUD_MS || told.share === 1)) {
    line.textContent = told.words;
    aloud = now;
  }
});
