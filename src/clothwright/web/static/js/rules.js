// @ts-check
// The rules of a plan: a form is checked by the server, what is wrong is said beside its field,
// and what is right goes out as one edit, like every other edit.
import { say, send } from "./edit.js";
import { revision } from "./live.js";
import { refresh } from "./morph.js";
import { patiently } from "./patient.js";

/** @param {HTMLFormElement} form @returns {URLSearchParams} */
function fieldsOf(form) {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form)) body.append(name, String(value));
  body.set("wanted", "edit");
  return body;
}

/** The element that takes the sentence about a field. @param {Element} field @returns {HTMLElement | null} */
const placeFor = (field) =>
  document.getElementById(`${field.id}-echo`) ?? document.getElementById(`${field.id}-wrong`);

/** Take every sentence of a form away, or those of one field. @param {Element[]} fields */
function clear(fields) {
  for (const field of fields) {
    field.removeAttribute("aria-invalid");
    const place = placeFor(field);
    if (place?.classList.contains("wrong") || place?.classList.contains("bad")) place.textContent = "";
    place?.classList.remove("bad");
  }
}

/** @param {HTMLFormElement} form @param {Record<string, string>} wrong */
function beside(form, wrong) {
  /** @type {HTMLElement | null} */
  let first = null;
  for (const [name, words] of Object.entries(wrong)) {
    const field = form.querySelector(`[name="${CSS.escape(name)}"]`) ?? form.querySelector(`[name^="${CSS.escape(name)}"]`);
    if (!(field instanceof HTMLElement)) continue;
    const place = placeFor(field);
    if (!place) continue;
    field.setAttribute("aria-invalid", "true");
    place.textContent = words;
    if (place.classList.contains("echo")) place.classList.add("bad");
    first ??= field;
  }
  first?.focus();
  if (!first) say(Object.values(wrong).join(" "), false);
}

/** Ask what edit a form means; it must be of the revision that is shown.
 * @param {HTMLFormElement} form @returns {Promise<any>} */
async function checked(form) {
  for (let turn = 0; ; turn += 1) {
    const { ok, said } = await patiently(form.action, {
      method: "POST",
      headers: { Accept: "application/json" },
      body: fieldsOf(form),
    });
    if (!ok || said.revision === revision() || turn === 3) return { ok, said };
    await new Promise((go) => setTimeout(go, 300));
  }
}

/** @param {HTMLFormElement} form */
async function sent(form) {
  clear([...form.elements]);
  try {
    const { ok, said } = await checked(form);
    if (!ok) {
      if (said.fields) beside(form, said.fields);
      else say(said.sentence, false);
      return;
    }
    const answer = await send(said.edit);
    if (!answer.ok) return;
    if (form.dataset.clear !== undefined) form.reset();
    history.replaceState(null, "", said.after);
    await refresh(["rules"]);
    if (said.lay) await layAnew(said.lay);
  } catch (error) {
    say(error instanceof Error ? error.message : String(error), false);
  }
}

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

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || form.dataset.check === undefined) return;
  event.preventDefault();
  const button = event.submitter instanceof HTMLButtonElement ? event.submitter : null;
  if (button?.getAttribute("aria-disabled") === "true") return;
  button?.setAttribute("aria-disabled", "true");
  sent(form).finally(() => button?.removeAttribute("aria-disabled"));
});

document.addEventListener("input", (event) => {
  const field = event.target;
  const form = field instanceof HTMLElement ? field.closest("form[data-check]") : null;
  if (field instanceof HTMLElement && form) clear([field]);
});

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
