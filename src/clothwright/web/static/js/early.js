// @ts-check
// What is pressed, ticked or typed before the modules are there waits for them, and is done then.
// A classic script on purpose: it stands before anything that can be pressed. A module that cannot
// be fetched holds nothing up for good: forms then go to the server by themselves.
(() => {
  /** What a browser does by itself when these are pressed needs no script. */
  const OWN = "a, label, input, select, textarea, summary";
  /** @type {(() => void)[]} */
  const held = [];

  /** Keep all other listeners from it until they can hear it. @param {Event} event @param {() => void} again */
  function hold(event, again) {
    event.stopImmediatePropagation();
    held.push(again);
    document.documentElement.dataset.waits = "yes";
    say("This waits until the page is ready.");
  }

  /** @param {string} words */
  function say(words) {
    const line = document.getElementById("said");
    if (line) line.textContent = words;
  }

  /** A form is sent once, by the button that was pressed last. @param {SubmitEvent} event */
  function submitted(event) {
    const form = /** @type {HTMLFormElement} */ (event.target);
    event.preventDefault();
    hold(event, () => form.requestSubmit(event.submitter));
    const earlier = sent.get(form);
    if (earlier) held.splice(held.indexOf(earlier), 1);
    sent.set(form, held[held.length - 1]);
  }
  /** @type {Map<HTMLFormElement, () => void>} */
  const sent = new Map();

  /** @param {MouseEvent} event */
  function clicked(event) {
    const on = event.target;
    if (!(on instanceof Element) || on.closest(OWN)) return;
    const button = on.closest("button");
    if (button?.type === "submit" && button.form) return; // its form is sent
    const { bubbles, cancelable, composed, detail, clientX, clientY, button: which } = event;
    const { ctrlKey, shiftKey, metaKey, altKey } = event;
    const again = { bubbles, cancelable, composed, detail, clientX, clientY, button: which, ctrlKey, shiftKey, metaKey, altKey };
    hold(event, () => on.dispatchEvent(new MouseEvent("click", again)));
  }

  /** @param {KeyboardEvent} event */
  function pressed(event) {
    const on = event.target;
    if (!(on instanceof Element) || on.closest(OWN) || event.key === "Tab") return;
    const { key, code, ctrlKey, shiftKey, metaKey, altKey } = event;
    const again = { bubbles: true, cancelable: true, key, code, ctrlKey, shiftKey, metaKey, altKey };
    hold(event, () => on.dispatchEvent(new KeyboardEvent("keydown", again)));
  }

  /** What is ticked, chosen or typed stands there already; the listeners hear of it later. @param {Event} event */
  function changed(event) {
    const on = event.target;
    hold(event, () => on?.dispatchEvent(new Event(event.type, { bubbles: true })));
  }

  const kinds = /** @type {[string, (event: any) => void][]} */ ([
    ["submit", submitted],
    ["click", clicked],
    ["keydown", pressed],
    ["input", changed],
    ["change", changed],
  ]);
  for (const [kind, take] of kinds) window.addEventListener(kind, take, true);
  // Modules have run before this event; the listeners that others have for it run before the timer.
  document.addEventListener("DOMContentLoaded", () =>
    setTimeout(() => {
      for (const [kind, take] of kinds) window.removeEventListener(kind, take, true);
      if (!held.length) return;
      delete document.documentElement.dataset.waits;
      say("");
      for (const again of held.splice(0)) again();
    }),
  );
})();
