// @ts-check
// A form's fields, or a file, sent as they are; what came of it is said in words.
import { say } from "./say.js";

const AWAY = "The server does not answer; this was not saved. Start it again, then repeat this.";
const STOPPED = "Stopped. What was not here yet was not added.";
export const BROKEN = "Something went wrong; try again.";

/** @param {HTMLFormElement} form @param {HTMLElement | null} [pressed] @returns {URLSearchParams} */
export function fieldsOf(form, pressed) {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form)) body.append(name, String(value));
  if (pressed instanceof HTMLButtonElement && pressed.name) body.append(pressed.name, pressed.value);
  body.set("by", "script");
  return body;
}

/** Send it once. @param {string | URL} to @param {BodyInit} body @param {AbortSignal} [signal]
 * @returns {Promise<Record<string, any>>} what the server says; {sentence} when it was refused */
export async function once(to, body, signal) {
  try {
    const answer = await fetch(to, { method: "POST", headers: { Accept: "application/json" }, body, signal });
    const told = await answer.json().catch(() => ({ sentence: BROKEN }));
    return answer.ok ? told : { sentence: told.sentence ?? BROKEN };
  } catch {
    return { sentence: signal?.aborted ? STOPPED : AWAY };
  }
}

/** Send it and say what came of it. @param {string | URL} to @param {BodyInit} body @param {AbortSignal} [signal]
 * @returns {Promise<Record<string, any> | null>} null when it was refused */
export async function post(to, body, signal) {
  const told = await once(to, body, signal);
  const ok = told.sentence === undefined;
  say(ok ? told.words : told.sentence, ok);
  return ok ? told : null;
}
