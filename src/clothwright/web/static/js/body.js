// @ts-check
// The size that was suggested is cut: one press, one step that can be undone.
import { send } from "./edit.js";

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button[data-whole]") : null;
  if (!(button instanceof HTMLButtonElement)) return;
  send(JSON.parse(button.dataset.whole ?? "{}")).then(() => document.getElementById("size")?.focus({ preventScroll: true }));
});
