// @ts-check
// The plans: buttons that begin, stop or take something, and how far the searches are.
import { say } from "./edit.js";

/** Words of progress are put where they are read aloud no more often than this. */
const ALOUD_MS = 5000;
let aloud = 0;

/** @param {HTMLFormElement} form @param {HTMLElement | null} pressed */
async function post(form, pressed) {
  const fields = new FormData(form);
  if (pressed instanceof HTMLButtonElement && pressed.name) fields.append(pressed.name, pressed.value);
  const body = new URLSearchParams();
  for (const [name, value] of fields) body.append(name, String(value));
  body.set("by", "script");
  const to = pressed?.getAttribute("formaction") ?? form.getAttribute("action") ?? "";
  try {
    const answer = await fetch(to, { method: "POST", headers: { Accept: "application/json" }, body });
    const told = await answer.json();
    say(answer.ok ? told.words : told.sentence, answer.ok);
    if (answer.ok && form.dataset.clear !== undefined) form.reset();
  } catch {
    say("The server does not answer; nothing was begun. Start it again, then repeat this.", false);
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.post === undefined) return;
  event.preventDefault();
  post(form, event.submitter);
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
