// @ts-check
// A finger on something that is dragged drags it; the page does not scroll away under it.
// (touch-action does not hold for the inner shapes of an SVG in every browser.)

/** @param {string} what a selector of what is dragged */
export function dragByFinger(what) {
  document.addEventListener(
    "touchstart",
    (event) => {
      const on = event.target instanceof Element ? event.target.closest(what) : null;
      if (on && event.touches.length === 1 && event.cancelable) event.preventDefault();
    },
    { passive: false },
  );
}
