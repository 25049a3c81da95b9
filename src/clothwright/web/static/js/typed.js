// @ts-check
// Typed measurements: the text is kept and drawn when the hands rest, one request after the other;
// while the server is away it waits. What is chosen stands in the address.
import { say } from "./edit.js";
import { refresh } from "./morph.js";
import { patiently } from "./patient.js";
import { placeOfLine } from "./notes.js";

const PAUSE_MS = 700;
const PARTS = ["inbox", "typed", "table", "sitting"];

/** @type {number | undefined} */
let timer;
/** The text that was kept last. */
let kept = text()?.value ?? "";
/** @type {Promise<void>} */
let queue = Promise.resolve();

/** @returns {HTMLTextAreaElement | null} */
function text() {
  const field = document.getElementById("typed-text");
  return field instanceof HTMLTextAreaElement ? field : null;
}

/** @param {string} words */
function tell(words) {
  const out = document.getElementById("typed-kept");
  if (out) out.textContent = words;
}

/** Keep the text as it stands now, and draw it. */
async function keep() {
  const field = text();
  const form = field?.form;
  if (!field || !form || field.value === kept) return;
  const sent = field.value;
  const base = form.elements.namedItem("base");
  const to = new URL(form.dataset.typed ?? "", location.href);
  if (form.dataset.drawing) to.searchParams.set("drawing", form.dataset.drawing);
  else if (!sent.trim()) return;
  const body = new URLSearchParams({ text: sent, by: "script" });
  if (base instanceof HTMLInputElement) body.set("base", base.value);
  tell("Being saved …");
  const { ok, said } = await patiently(to, { method: "POST", headers: { Accept: "application/json" }, body });
  if (!ok) {
    tell("Not saved.");
    say(said.sentence, false);
    return;
  }
  kept = sent;
  if (base instanceof HTMLInputElement) base.value = said.base;
  if (said.drawing && form.dataset.drawing !== said.drawing) {
    form.dataset.drawing = said.drawing;
    const here = new URL(location.href);
    here.search = new URLSearchParams({ drawing: said.drawing }).toString();
    history.replaceState(null, "", here);
    form.action = `${form.dataset.typed}?drawing=${encodeURIComponent(said.drawing)}`;
  }
  await refresh(PARTS);
  if (field.value === kept) tell("Saved; it is drawn when you pause.");
}

/** Keep it after what is under way. @returns {Promise<void>} */
function soon() {
  clearTimeout(timer);
  queue = queue.then(keep).catch((error) => {
    tell("Not saved.");
    say(error instanceof Error ? error.message : String(error), false);
  });
  return queue;
}

document.addEventListener("input", (event) => {
  if (event.target !== text()) return;
  tell("Not saved yet.");
  clearTimeout(timer);
  timer = setTimeout(soon, PAUSE_MS);
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.typed === undefined) return;
  event.preventDefault();
  const field = text();
  if (field && !field.value.trim()) say("Type some lines first, or put the example in.", false);
  else soon();
});

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const field = text();
  if (!field || !target) return;
  if (target.closest("[data-example]")) {
    const example = document.querySelector(".typed-example")?.textContent ?? "";
    field.value = field.value.trim() ? `${field.value.trimEnd()}\n\n${example}` : example;
    field.focus();
    soon();
  }
  const line = target.closest("[data-line]");
  if (line) {
    const [start, end] = placeOfLine(field.value, Number(line.getAttribute("data-line")));
    field.focus();
    field.setSelectionRange(start, end);
    const high = parseFloat(getComputedStyle(field).lineHeight) || 24;
    field.scrollTop = Math.max(0, (Number(line.getAttribute("data-line")) - 4) * high);
  }
});

addEventListener("beforeunload", (event) => {
  const field = text();
  if (field && field.value !== kept && field.value.trim()) event.preventDefault();
});
