// @ts-check
// Letters in a drawing are read on the screen, whatever its scale: none is smaller than LEAST. One
// that would then lie on another or hang out of the drawing is left out; what it says stands in full
// in the list or the words beside the drawing, and in the drawing once it is looked at closer.

/** px: what has to be read is never smaller. */
const LEAST = 12;
/** A letter that has to grow more than this says nothing about its place any more. */
const MOST = 4;
/** Letters smaller than this share of the drawing's largest are small print: it waits for a closer look. */
const MINOR = 0.6;
/** Small print as short as this is a number on a ruler, and stays. */
const SHORT = 3;

/** px: how far a letter may hang out of a drawing that is not cut off at its edge. */
const SLACK = 4;

/** @typedef {{left: number, top: number, right: number, bottom: number}} Box */

/** @param {Box} a @param {Box} b @returns {boolean} */
export function overlap(a, b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** @param {Box} inner @param {Box} outer @param {number} by how far it may hang out
 * @returns {boolean} */
export function inside(inner, outer, by) {
  const across = inner.left >= outer.left - by && inner.right <= outer.right + by;
  return across && inner.top >= outer.top - by && inner.bottom <= outer.bottom + by;
}

/** How tall letters of a text are on the screen, px. @param {SVGTextElement} text @returns {number} */
function tall(text) {
  const by = text.getScreenCTM();
  return by ? Math.hypot(by.a, by.b) * parseFloat(getComputedStyle(text).fontSize) : 0;
}

/** @param {SVGSVGElement} svg */
function spell(svg) {
  const texts = [...svg.querySelectorAll("text")];
  for (const text of texts) {
    text.style.removeProperty("font-size");
    text.style.removeProperty("visibility");
  }
  const frame = svg.getBoundingClientRect();
  const slack = getComputedStyle(svg).overflow === "visible" ? SLACK : 0;
  if (!frame.width) return;
  const told = texts.map((text) => ({ text, tall: tall(text), own: parseFloat(getComputedStyle(text).fontSize) }));
  const grown = told.filter((t) => t.tall > 0 && t.tall < LEAST);
  if (!grown.length) return;
  for (const t of grown) t.text.style.fontSize = `${(t.own * LEAST) / t.tall}px`;
  told.sort((a, b) => b.tall - a.tall);
  /** @type {Box[]} */
  const kept = [];
  const boxes = told.map((t) => t.text.getBoundingClientRect());
  const largest = Math.max(...told.map((t) => t.tall));
  told.forEach((t, at) => {
    const small = t.tall < LEAST;
    const minor = t.tall < MINOR * largest && (t.text.textContent ?? "").length > SHORT;
    const grows = !minor && t.tall * MOST >= LEAST && inside(boxes[at], frame, slack);
    const lies = !small || (grows && !kept.some((k) => overlap(k, boxes[at])));
    if (lies) kept.push(boxes[at]);
    else t.text.style.visibility = "hidden";
  });
}

const sizes = new ResizeObserver((seen) => {
  for (const { target } of seen) if (target instanceof SVGSVGElement) spell(target);
});

/** @param {ParentNode} within */
function watch(within) {
  for (const svg of within.querySelectorAll("svg.pic, svg.tape-scale")) {
    if (!(svg instanceof SVGSVGElement)) continue;
    sizes.unobserve(svg);
    sizes.observe(svg); // tells its size once, and again whenever it is looked at closer
  }
}

/** From here on every letter of every drawing can be read. */
export function followLetters() {
  watch(document);
  document.addEventListener("morphed", (event) => {
    if (event.target instanceof Element) watch(event.target);
  });
}
