// @ts-check
// The print on the garment while a piece is dragged: the cloth is pushed under its outline here, in
// the browser. What the server sends after the drop takes its place.
import { underOf } from "./under.js";

document.addEventListener("piece-moved", (event) => {
  const { shape, ...lies } = /** @type {CustomEvent} */ (event).detail;
  const to = underOf(lies);
  for (const cloth of document.querySelectorAll(`[data-worn="${CSS.escape(shape)}"] use`)) {
    cloth.setAttribute("transform", to);
  }
});
