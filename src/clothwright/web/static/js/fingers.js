// @ts-check
// What is dragged: a pointer followed until it is let go, and places on a drawing. A finger on it
// drags it; the page does not scroll away under it.
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

/** Follow a pointer that was put down on something, until it is let go.
 * @param {HTMLElement | SVGElement} node @param {PointerEvent} event where it was put down
 * @param {(event: PointerEvent) => void} move each time it moves
 * @param {(kept: boolean) => void} end once, when it is let go; kept: false when it was taken away */
export function follow(node, event, move, end) {
  const on = /** @type {GlobalEventHandlers} */ (node);
  /** @param {PointerEvent} e */
  const over = (e) => {
    on.removeEventListener("pointermove", move);
    on.removeEventListener("pointerup", over);
    on.removeEventListener("pointercancel", over);
    end(e.type === "pointerup");
  };
  node.setPointerCapture(event.pointerId);
  on.addEventListener("pointermove", move);
  on.addEventListener("pointerup", over);
  on.addEventListener("pointercancel", over);
}

/** Where a pointer is on a drawing, in its own measure (y as drawn).
 * @param {SVGElement} node the drawing, or anything in it @param {MouseEvent} event @returns {DOMPoint} */
export function onDrawing(node, event) {
  const svg = node instanceof SVGSVGElement ? node : node.ownerSVGElement;
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg?.getScreenCTM()?.inverse());
}
