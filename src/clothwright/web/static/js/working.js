// @ts-check
// A form that sends a file is at work: it says on what, and offers to stop.

/** Show that a form is at work. say: on what. signal: given to what is sent, which ends when she
 * presses the form's button to stop. done: it is at work no more.
 * @param {HTMLFormElement} form */
export function atWork(form) {
  const line = form.querySelector("[data-working]");
  const stop = form.querySelector("[data-stop]");
  const asked = new AbortController();
  const end = () => asked.abort();
  /** @param {boolean} on */
  const show = (on) => {
    if (stop instanceof HTMLElement) stop.hidden = !on;
  };
  stop?.addEventListener("click", end);
  show(true);
  return {
    signal: asked.signal,
    /** @param {string} words */
    say(words) {
      if (line) line.textContent = words;
    },
    done() {
      stop?.removeEventListener("click", end);
      if (line) line.textContent = "";
      show(false);
    },
  };
}
