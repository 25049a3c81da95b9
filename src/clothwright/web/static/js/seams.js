// @ts-check
// Pairs of edges: what is said to one is kept at once; the reader goes on to the next.
import { say } from "./edit.js";
import { moveTo } from "./live.js";
import { refresh } from "./morph.js";

/** @param {HTMLFormElement} form @param {HTMLElement | null} pressed */
async function post(form, pressed) {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form)) body.append(name, String(value));
  if (pressed instanceof HTMLButtonElement && pressed.name) body.append(pressed.name, pressed.value);
  body.set("by", "script");
  try {
    const answer = await fetch(form.action, { method: "POST", headers: { Accept: "application/json" }, body });
    const told = await answer.json().catch(() => ({ sentence: "The server did not answer in words." }));
    say(answer.ok ? told.words : told.sentence, answer.ok);
    if (!answer.ok) return;
    await moveTo(told.revision);
    await refresh(["table", "own", "seams"]);
    document.getElementById("pairs")?.focus({ preventScroll: true });
  } catch {
    say("The server does not answer; this was not kept. Start it again, then repeat this.", false);
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.say === undefined) return;
  event.preventDefault();
  post(form, event.submitter);
});
