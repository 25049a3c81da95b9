// @ts-check
// The intake: a file is sent as it is, every answer is saved at once, a corner is pressed on the
// drawing. What is chosen stands in the address, so that a reload shows the same.
import { fieldsOf, post } from "./asking.js";
import { moveTo } from "./live.js";
import { refresh } from "./morph.js";
import { cornerText, wrongFile } from "./intake.js";
import { sendFile } from "./working.js";

const PARTS = ["inbox", "table", "sitting"];

/** @param {HTMLFormElement} form @param {HTMLElement | null} pressed */
async function answer(form, pressed) {
  const told = await post(form.action, fieldsOf(form, pressed));
  if (!told) return;
  if (told.address) return location.assign(told.address); // what it shows is drawn there
  if (told.revision !== undefined) await moveTo(told.revision);
  await refresh(PARTS);
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  if (form.dataset.upload !== undefined) {
    event.preventDefault();
    sendFile(form, wrongFile);
  } else if (form.dataset.answer !== undefined) {
    event.preventDefault();
    answer(form, event.submitter);
  }
});

/** Make or unmake the corner at a place of the drawing. @param {string} at */
async function corner(at) {
  const form = document.getElementById("q-corners");
  if (!(form instanceof HTMLFormElement)) return;
  const told = await post(form.action, new URLSearchParams({ what: "corner", at, by: "script" }));
  if (told) await refresh(PARTS);
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const dot = target?.closest("[data-corner]");
  if (dot) {
    event.preventDefault();
    corner(dot.getAttribute("data-corner") ?? "");
    return;
  }
  const line = target?.closest("[data-base]");
  if (line instanceof SVGGraphicsElement) {
    const screen = line.getScreenCTM();
    if (!screen) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(screen.inverse());
    corner(cornerText(at.x, at.y));
  }
});

document.addEventListener("keydown", (event) => {
  const dot = event.target instanceof Element ? event.target.closest("[data-corner]") : null;
  if (!dot || event.key !== " ") return;
  event.preventDefault();
  corner(dot.getAttribute("data-corner") ?? "");
});

/** What is typed in a field means the choice beside it. @type {Record<string, string>} */
const MEANS = {
  amount: "included", add: "none", tall: "measured", angle: "angle",
  across: "grid", down: "grid", order: "grid", rows: "rows",
};

document.addEventListener("input", (event) => {
  const field = event.target;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement || field instanceof HTMLSelectElement)) return;
  const means = MEANS[field.name];
  if (!means) return;
  const radio = field.form?.querySelector(`input[type=radio][value="${means}"]`);
  if (radio instanceof HTMLInputElement && field.value.trim()) radio.checked = true;
});
