// @ts-check
// A form that sends a file is at work: it says on what, and offers to stop.
import { post } from "./asking.js";
import { say } from "./say.js";

/** Show that a form is at work; it is not sent a second time meanwhile. say: on what. signal: given to
 * what is sent, which ends when she presses the form's button to stop. done: it is at work no more.
 * @param {HTMLFormElement} form */
export function atWork(form) {
  const line = form.querySelector("[data-working]");
  const stop = form.querySelector("[data-stop]");
  const asked = new AbortController();
  const end = () => asked.abort();
  /** @param {boolean} on */
  const show = (on) => {
    if (stop instanceof HTMLElement) stop.hidden = !on;
    for (const one of form.querySelectorAll("button")) if (one !== stop) one.disabled = on;
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

/** Send the file that a form was given, and go where the answer says.
 * @param {HTMLFormElement} form @param {(files: File[]) => string} wrong why it is not sent; "" when it may be */
export async function sendFile(form, wrong) {
  const field = form.querySelector("input[type=file]");
  const files = field instanceof HTMLInputElement ? [...(field.files ?? [])] : [];
  const why = wrong(files);
  if (why) return say(why, false);
  const [file] = files;
  const to = new URL(form.dataset.upload ?? "", location.href);
  to.searchParams.set("name", file.name);
  const work = atWork(form);
  work.say(`Reading ${file.name} …`);
  const told = await post(to, file, work.signal);
  if (told?.address) return location.assign(told.address);
  work.done();
}
