// @ts-check
// A length may be typed in any unit; what it means is said below the field by the same code that
// will read it (the server's), so the page can never understand something else.

/** @type {WeakMap<HTMLInputElement, number>} */
const waiting = new WeakMap();

/** @param {HTMLInputElement} field */
async function echo(field) {
  const book = document.body.dataset.book ?? "";
  const text = field.value;
  const out = document.getElementById(`${field.id}-echo`);
  if (!out) return;
  if (!text.trim()) {
    mark(field, out, "", "");
    return;
  }
  const url = new URL(`/b/${encodeURIComponent(book)}/length`, location.href);
  url.searchParams.set("text", text);
  if (field.dataset.least) url.searchParams.set("least", field.dataset.least);
  try {
    const answer = await fetch(url, { headers: { Accept: "application/json" } });
    const said = await answer.json();
    if (field.value !== text) return;
    mark(field, out, said.shown ?? said.sentence, said.sentence ?? "");
  } catch {
    mark(field, out, "", "");
  }
}

/** @param {HTMLInputElement} field @param {HTMLElement} out @param {string} words @param {string} wrong */
function mark(field, out, words, wrong) {
  out.textContent = words;
  out.classList.toggle("bad", wrong !== "");
  field.setCustomValidity(wrong);
  if (wrong) field.setAttribute("aria-invalid", "true");
  else field.removeAttribute("aria-invalid");
}

/** Every <input data-length id=X> is echoed in the element with id X-echo. */
export function followLengths() {
  document.addEventListener("input", (event) => {
    const field = event.target;
    if (!(field instanceof HTMLInputElement) || !("length" in field.dataset)) return;
    clearTimeout(waiting.get(field));
    waiting.set(field, setTimeout(() => echo(field), 120));
  });
}
