// @ts-check
// After a mend its card is gone: whoever pressed it is taken to the verdict, not back to the top.

let pressed = false;
document.addEventListener("submit", (event) => {
  pressed = event.target instanceof HTMLElement && event.target.closest(".mending") !== null;
});
document.addEventListener("morphed", () => {
  if (!pressed || document.activeElement !== document.body) return;
  pressed = false;
  document.getElementById("verdict")?.focus();
});
