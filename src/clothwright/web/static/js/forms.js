// @ts-check
// Forms with data-check: one is checked by the server, what is wrong is said beside its field, and
// what is right goes out as one edit, like every other edit.
import { say, send } from "./edit.js";
import { revision } from "./live.js";
import { patiently } from "./patient.js";

/** @param {HTMLFormElement} form @returns {URLSearchParams} */
function fieldsOf(form) {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form)) body.append(name, String(value));
  body.set("wanted", "edit");
  return body;
}

/** The element that takes the sentence about a field. @param {Element} field @returns {HTMLElement | null} */
const placeFor = (field) => field.closest(".field:has([data-about]), fieldset")?.querySelector("[data-about]") ?? null;

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
    const place = form.querySelector(`[data-about="${CSS.escape(name)}"]`);
    const field = place?.closest(".field, fieldset")?.querySelector("input, select");
    if (!(place instanceof HTMLElement) || !(field instanceof HTMLElement)) continue;
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

/** What a form means, checked; what is wrong is said. @param {HTMLFormElement} form
 * @returns {Promise<any>} {edit, ...}; null when something is wrong */
export async function meant(form) {
  clear([...form.elements]);
  try {
    const { ok, said } = await checked(form);
    if (ok) return said;
    if (said.fields) beside(form, said.fields);
    else say(said.sentence, false);
  } catch (error) {
    say(error instanceof Error ? error.message : String(error), false);
  }
  return null;
}

/** @param {HTMLFormElement} form @param {(form: HTMLFormElement, said: any) => Promise<void>} after */
async function sent(form, after) {
  const said = await meant(form);
  const answer = said && (await send(said.edit));
  if (!answer?.ok) return;
  if (form.dataset.clear !== undefined) form.reset();
  await after(form, said);
}

/** Each form with data-check is sent so. @param {(form: HTMLFormElement, said: any) => Promise<void>} after
 * what follows when its edit is made */
export function followForms(after) {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || form.dataset.check === undefined) return;
    event.preventDefault();
    const button = event.submitter instanceof HTMLButtonElement ? event.submitter : null;
    if (button?.getAttribute("aria-disabled") === "true") return;
    button?.setAttribute("aria-disabled", "true");
    sent(form, after).finally(() => button?.removeAttribute("aria-disabled"));
  });
  document.addEventListener("input", (event) => {
    const field = event.target;
    const form = field instanceof HTMLElement ? field.closest("form[data-check]") : null;
    if (field instanceof HTMLElement && form) clear([field]);
  });
}
