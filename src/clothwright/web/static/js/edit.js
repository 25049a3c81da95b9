// @ts-check
// Edits: one at a time, each with the revision it was made on. A refusal is shown as the sentence
// the server says; nothing is lost, and nothing is overwritten.
import { moveTo, revision } from "./live.js";
import { nested } from "./pairing.js";
import { patiently } from "./patient.js";
import { say } from "./say.js";

/** @type {Promise<unknown>} */
let queue = Promise.resolve();

/** @typedef {{ok: boolean, words: string, revision?: number}} Answer */

export { say } from "./say.js";

/** @param {Record<string, unknown>} body @returns {Promise<Answer>} */
async function post(body) {
  const book = document.body.dataset.book ?? "";
  const token = crypto.getRandomValues(new Uint32Array(2)).join("-"); // sent again it counts once
  try {
    const { ok, said } = await patiently(`/b/${encodeURIComponent(book)}/edit`, {
      method: "POST",
      headers: { "Content-Type": "application/json", Accept: "application/json" },
      body: JSON.stringify({ base: revision(), token, ...body }),
    });
    return ok ? { ok, words: said.words, revision: said.revision } : { ok, words: said.sentence };
  } catch (error) {
    return { ok: false, words: error instanceof Error ? error.message : String(error) };
  }
}

/** Send an edit ({"edit": "switch-change", ...}) or {"go": "undo"}, after those before it.
 * seen: the revision of what was shown, where that may be older than the page's own.
 * @param {Record<string, unknown>} what @param {string} [seen] @returns {Promise<Answer>} */
export function send(what, seen) {
  const turn = queue.then(async () => {
    const base = seen ? { base: Number(seen) } : {};
    const answer = await post("go" in what ? what : { ...base, edit: what });
    say(answer.words, answer.ok);
    if (answer.ok && answer.revision !== undefined) await moveTo(answer.revision);
    return answer;
  });
  queue = turn.catch(() => {});
  return turn;
}

/** A form with data-edit="KIND" sends its fields as that edit; a button with data-go undoes. */
export function followEdits() {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !form.dataset.edit) return;
    event.preventDefault();
    const fields = [...new FormData(form)].map(([name, value]) => /** @type {[string, string]} */ ([name, String(value)]));
    send({ edit: form.dataset.edit, ...nested(fields) }, form.dataset.seen);
  });
  document.addEventListener("click", (event) => {
    if (event.target instanceof Element && event.target.closest("[data-close]")) say("", true);
    const button = event.target instanceof Element ? event.target.closest("button[data-go]") : null;
    if (button instanceof HTMLButtonElement) send({ go: button.dataset.go });
  });
  document.addEventListener("keydown", (event) => {
    const typing = event.target instanceof HTMLElement && event.target.closest("input, textarea, select");
    if (typing || !document.body.dataset.book || !(event.ctrlKey || event.metaKey)) return;
    if (event.key.toLowerCase() !== "z") return;
    event.preventDefault();
    send({ go: event.shiftKey ? "redo" : "undo" });
  });
}
