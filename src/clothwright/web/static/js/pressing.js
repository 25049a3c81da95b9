// @ts-check
// Nothing is drawn anew under a finger or a pressed button of the mouse: a press counts only where
// it is let go on what it began on, and a part that is drawn meanwhile may move or replace that.

/** How long a press is waited for (ms): who holds longer is dragging, or let go where it is not heard. */
const LONGEST_MS = 3000;

/** Pointers that are down. @type {Set<number>} */
const down = new Set();
/** @type {(() => void)[]} */
let waiting = [];

function goOn() {
  const all = waiting;
  waiting = [];
  for (const go of all) go();
}

/** A press is over; the click that it makes comes before the timer. @param {PointerEvent} event */
function over(event) {
  if (down.delete(event.pointerId) && !down.size) setTimeout(() => down.size || goOn());
}

window.addEventListener("pointerdown", (event) => down.add(event.pointerId), true);
window.addEventListener("pointerup", over, true);
window.addEventListener("pointercancel", over, true);
window.addEventListener("pointermove", (event) => event.buttons || over(event), true);

/** @returns {Promise<void>} when nothing on the page is pressed, or is pressed for too long */
export function letGo() {
  if (!down.size) return Promise.resolve();
  return new Promise((done) => {
    waiting.push(done);
    setTimeout(done, LONGEST_MS);
  });
}
