// @ts-check
// A photo of the cloth: its four corners are put in place by pointer or keys, and sent with the size.
import { fieldsOf, post } from "./asking.js";
import { moved, spotsText, stepOf, within } from "./corners.js";
import { follow } from "./fingers.js";
import { wrongPhotos } from "./spots.js";
import { sendFile } from "./working.js";

/** @returns {SVGSVGElement | null} */
function picture() {
  return document.querySelector("svg.photo[data-width]");
}

/** @returns {SVGGElement[]} */
function knobs() {
  return [...document.querySelectorAll(".photo .knob")].filter((k) => k instanceof SVGGElement);
}

/** Put a corner at shares of the photo; the frame and the form follow.
 * @param {SVGGElement} knob @param {{x: number, y: number}} to */
function put(knob, to) {
  const svg = picture();
  if (!svg) return;
  const spot = within(to);
  const wide = Number(svg.dataset.width);
  const tall = Number(svg.dataset.height);
  knob.dataset.x = spot.x.toFixed(5);
  knob.dataset.y = spot.y.toFixed(5);
  knob.setAttribute("transform", `translate(${(spot.x * wide).toFixed(1)} ${(spot.y * tall).toFixed(1)})`);
  knob.setAttribute("aria-valuenow", (100 * spot.x).toFixed(1));
  knob.setAttribute("aria-valuetext", `${(100 * spot.x).toFixed(1)} % from the left, ${(100 * spot.y).toFixed(1)} % from the top`);
  const spots = knobs().map((k) => ({ x: Number(k.dataset.x), y: Number(k.dataset.y) }));
  svg.querySelector(".ring")?.setAttribute("points", spots.map((s) => `${s.x * wide},${s.y * tall}`).join(" "));
  const field = document.querySelector("#size-form input[name=corners]");
  if (field instanceof HTMLInputElement) field.value = spotsText(spots);
}

/** @param {SVGSVGElement} svg @param {PointerEvent} event */
function shares(svg, event) {
  const box = svg.getBoundingClientRect();
  return { x: (event.clientX - box.left) / box.width, y: (event.clientY - box.top) / box.height };
}

function takeHold() {
  const svg = picture();
  if (!svg) return;
  for (const knob of knobs()) {
    knob.addEventListener("pointerdown", (event) => {
      const from = shares(svg, event);
      const begun = { x: Number(knob.dataset.x), y: Number(knob.dataset.y) };
      knob.focus();
      /** @param {PointerEvent} e */
      const move = (e) => {
        const now = shares(svg, e);
        put(knob, { x: begun.x + now.x - from.x, y: begun.y + now.y - from.y });
      };
      follow(knob, event, move, () => {});
      event.preventDefault();
    });
    knob.addEventListener("keydown", (event) => {
      const by = moved(event.key, stepOf(event.shiftKey));
      if (!by) return;
      event.preventDefault();
      put(knob, { x: Number(knob.dataset.x) + by.x, y: Number(knob.dataset.y) + by.y });
    });
  }
}

/** @param {string} to @param {BodyInit} body */
async function sent(to, body) {
  const told = await post(to, body);
  if (told?.address) location.assign(told.address);
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  const { upload, take, throw: away } = form.dataset;
  if (upload !== undefined) {
    event.preventDefault();
    sendFile(form, (files) => wrongPhotos(files, 1));
  } else if (take !== undefined || away !== undefined) {
    event.preventDefault();
    sent(away === undefined ? `${form.action}${location.search}` : form.action, fieldsOf(form));
  }
});

takeHold();
if (document.getElementById("straight-name")) document.getElementById("straight-name")?.focus({ preventScroll: false });
