// @ts-check
// Ticks of the sewing: each is sent as it is set, and sent again when the server was away.
import { say } from "./edit.js";

/** @param {HTMLInputElement} box */
async function tick(box) {
  const path = `/b/${encodeURIComponent(document.body.dataset.book ?? "")}/sew/tick`;
  const done = box.checked;
  const body = JSON.stringify({ key: box.dataset.tick, done, at: new Date().toISOString() });
  for (let tries = 0; tries < 6; tries++) {
    try {
      const answer = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json", Accept: "application/json" }, body });
      if (!answer.ok) {
        box.checked = !done;
        say((await answer.json()).sentence, false);
      }
      return;
    } catch {
      await new Promise((go) => setTimeout(go, 300 * 2 ** tries));
    }
  }
  box.checked = !done;
  say("The server does not answer; this tick was not kept.", false);
}

document.addEventListener("change", (event) => {
  if (event.target instanceof HTMLInputElement && event.target.dataset.tick) tick(event.target);
});
document.addEventListener("click", (event) => {
  if (event.target instanceof Element && event.target.closest("[data-print]")) window.print();
});
