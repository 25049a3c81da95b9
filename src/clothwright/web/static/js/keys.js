// @ts-check
// What is moved by keys, a step at a time: it is held where the keys have brought it, kept when they
// rest, by Enter or when the focus goes on, and put back by Escape.

/** @template V where something is
 * @typedef {object} Hand
 * @property {(node: SVGElement, at: V) => unknown} keep take it as it is now
 * @property {(node: SVGElement) => unknown} giveUp put it back
 * @property {number} [rest] ms after which keys that rest keep it; without it only Enter does, and
 * it is put back when the focus goes on */

/** @template V
 * @typedef {{at: (node: SVGElement) => V | null, node: () => SVGElement | null, hold: (node: SVGElement, at: V) => void, pause: () => void, settle: () => unknown, drop: () => SVGElement | null}} Held
 * at: where it is held. node: what is held. hold: hold it here; what was held before is kept first.
 * pause: the keys do not rest. settle: keep it now. drop: let go of it, neither kept nor put back. */

/** @template V @param {Hand<V>} hand @returns {Held<V>} */
export function heldBy({ keep, giveUp, rest }) {
  /** @type {{node: SVGElement, at: V} | null} */
  let now = null;
  /** @type {number | undefined} */
  let timer;
  const drop = () => {
    const node = now?.node ?? null;
    clearTimeout(timer);
    now = null;
    return node;
  };
  const settle = () => {
    const was = now;
    drop();
    return was ? keep(was.node, was.at) : undefined;
  };
  document.addEventListener("focusout", (event) => {
    if (!now || event.target !== now.node) return;
    if (rest) settle();
    else giveUp(/** @type {SVGElement} */ (drop()));
  });
  return {
    at: (node) => (now?.node === node ? now.at : null),
    node: () => now?.node ?? null,
    hold: (node, at) => {
      if (now && now.node !== node) settle();
      clearTimeout(timer);
      now = { node, at };
      if (rest) timer = window.setTimeout(settle, rest);
    },
    pause: () => clearTimeout(timer),
    settle,
    drop,
  };
}

/** Move what is focused by its keys.
 * @template V
 * @param {string} what a selector of what is moved
 * @param {Hand<V> & {from: (node: SVGElement) => V, by: (node: SVGElement, at: V, event: KeyboardEvent) => V | null, show: (node: SVGElement, at: V) => unknown}} hand
 * from: where it lies; by: where a key brings it, null for a key that is none of ours */
export function moveByKeys(what, hand) {
  const held = heldBy(hand);
  document.addEventListener("keydown", (event) => {
    const node = event.target instanceof Element ? event.target.closest(what) : null;
    if (!(node instanceof SVGElement) || event.ctrlKey || event.metaKey || event.altKey) return;
    const here = held.at(node);
    if (here !== null && event.key === "Escape") {
      held.drop();
      hand.giveUp(node);
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      held.settle();
    } else {
      const at = hand.by(node, here ?? hand.from(node), event);
      if (at === null) return;
      event.preventDefault();
      held.hold(node, at);
      hand.show(node, at);
    }
  });
}
