// @ts-check
// The rules of a plan: its forms, what follows when one is sent, and where the reader is led.
import { say } from "./edit.js";
import { followForms } from "./forms.js";
import { refresh } from "./morph.js";
import { patiently } from "./patient.js";

followForms(async (_, said) => {
  history.replaceState(null, "", said.after);
  await refresh(["rules"]);
  if (said.lay) await layAnew(said.lay);
});

/** @param {string} plan */
async function layAnew(plan) {
  const book = encodeURIComponent(document.body.dataset.book ?? "");
  const { ok, said } = await patiently(`/b/${book}/plans/lay`, {
    method: "POST",
    headers: { Accept: "application/json" },
    body: new URLSearchParams({ plan, by: "script" }),
  });
  say(ok ? said.words : said.sentence, ok);
}

/** Where the reader is led once the part is drawn: the head of the rules, or the form. */
let leadTo = "";
document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("a[data-to-rules], a[data-to-form]") : null;
  if (link instanceof HTMLElement) leadTo = link.dataset.toForm === undefined ? "rules-head" : "form-head";
});
document.addEventListener("morphed", (event) => {
  if (/** @type {CustomEvent} */ (event).detail !== "rules" || !leadTo) return;
  const head = document.getElementById(leadTo);
  leadTo = "";
  head?.focus({ preventScroll: true });
  head?.scrollIntoView({ block: "start" });
});
