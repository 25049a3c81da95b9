// @ts-check
// Edits: one at a time, each with the revision it was made on. A refusal is shown as the sentence
// the server says; nothing is lost, and nothing is overwritten.
import { moveTo, revision } from "./live.js";
import { nested } from "./pairing.js";

/** @type {Promise<unknown>} */
let queue = Promise.resolve();

/** @typedef {{ok: boolean, words: string, revision?: number}} Answer */

/** @type {number | undefined} */
let fading;

/** Show a sentence: quietly when it went well, as trouble when it did not.
 * @param {string} words @param {boolean} ok */
export function say(words, ok) {
  const quiet = document.getElementById("said");
  const loud = document.getElementById("trouble");
  if (quiet) {
    quiet.textContent = ok ? words : "";
    clearTimeout(fading);
    fading = setTimeout(() => (quiet.textContent = ""), 8000);
  }
  const line = loud?.querySelector("span");
  if (loud && line) {
    line.textContent = ok ? "" : words;
    loud.hidden = ok || !words;
  }
}

/** @param {Record<string, unknown>} body @returns {Promise<Answer>} */
async function post(body) {
  const book = document.body.dataset.book ?? "";
  const token = crypto.getRandomValues(new Uint32Array(2)).join("-");
  const sent = JSON.stringify({ base: revision(), token, ...body });
  for (let tries = 0; ; tries++) {
    try {
      const answer = await fetch(`/b/${encodeURIComponent(book)}/edit`, {
        method: "POST",
        headers: { "Content-Type": "application/json", Accept: "application/json" },
        body: sent,
      });
      const said = await answer.json().catch(() => ({ sentence: "The server did not answer in words." }));
      if (answer.ok) return { ok: true, words: said.words, revision: said.revision };
      return { ok: false, words: said.sentence };
    } catch {
      // the server is away for a moment: the same message again, its token keeps it from counting twice
      if (tries >= 5) return { ok: false, words: "The server does not answer; this was not saved. Start it again, then repeat this." };
      await new Promise((done) => setTimeout(done, 300 * 2 ** tries));
    }
  }
}

/** Send an edit ({"edit": "switch-change", ...}) or {"go": "undo"}, after those before it.
 * @param {Record<string, unknown>} what @returns {Promise<Answer>} */
export function send(what) {
  const turn = queue.then(async () => {
    const answer = await post("go" in what ? what : { edit: what });
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
    send({ edit: form.dataset.edit, ...nested(fields) });
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
