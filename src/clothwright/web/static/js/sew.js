// @ts-check
// Ticks of the sewing: each is sent as it is set, and sent again when the server was away.
import { patiently } from "./patient.js";
import { say } from "./say.js";

/** @param {HTMLInputElement} box */
async function tick(box) {
  const path = `/b/${encodeURIComponent(document.body.dataset.book ?? "")}/sew/tick`;
  const done = box.checked;
  const body = JSON.stringify({ key: box.dataset.tick, done, at: new Date().toISOString() });
  const headers = { "Content-Type": "application/json", Accept: "application/json" };
  try {
    const { ok, said } = await patiently(path, { method: "POST", headers, body });
    if (ok) return;
    say(said.sentence, false);
  } catch (error) {
    say(error instanceof Error ? error.message : String(error), false);
  }
  box.checked = !done;
}

document.addEventListener("change", (event) => {
  if (event.target instanceof HTMLInputElement && event.target.dataset.tick) tick(event.target);
});
document.addEventListener("click", (event) => {
  if (event.target instanceof Element && event.target.closest("[data-print]")) window.print();
});
