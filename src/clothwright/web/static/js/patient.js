// @ts-check
// What is asked while the server is away waits here and is asked again until it answers. After two
// minutes it is given up, and said; closing the page before asks first.
import { say } from "./say.js";

/** How long something waits for the server (ms). */
const PATIENCE_MS = 120_000;
const WAITS = "The server does not answer. What you did waits here and is sent when the server is back; keep this page open.";
const GIVEN_UP = "The server does not answer; this was not saved. Start it again, then repeat this.";

/** The server did not answer in all that time. */
export class Away extends Error {
  constructor() {
    super(GIVEN_UP);
  }
}

let waiting = 0;

/** @param {number} ms @returns {Promise<void>} after that time, or as soon as the connection is back */
function pause(ms) {
  return new Promise((done) => {
    const go = () => {
      clearTimeout(timer);
      document.removeEventListener("live:back", go);
      done();
    };
    const timer = setTimeout(go, ms);
    document.addEventListener("live:back", go);
  });
}

/** Fetch, and read all of the answer, again and again while the server is away. What is sent must
 * do no harm when it arrives twice. A broken answer counts as none.
 * @param {string | URL} address @param {RequestInit} [how]
 * @returns {Promise<{ok: boolean, said: any}>} said: its JSON, or {sentence} when it had none
 * @throws {Away} */
export async function patiently(address, how) {
  const began = Date.now();
  let away = false;
  try {
    for (let tries = 0; ; tries++) {
      try {
        const answer = await fetch(address, how);
        const text = await answer.text();
        if (away) say("", true);
        return { ok: answer.ok, said: read(text) };
      } catch {
        if (Date.now() - began > PATIENCE_MS) throw new Away();
        if (!away) waiting++;
        away = true;
        say(WAITS, false);
        await pause(Math.min(2000, 300 * 2 ** Math.min(tries, 8)));
      }
    }
  } finally {
    if (away) waiting--;
  }
}

/** @param {string} text @returns {any} */
function read(text) {
  try {
    return JSON.parse(text);
  } catch {
    return { sentence: "Something went wrong; try again." };
  }
}

addEventListener("beforeunload", (event) => {
  if (waiting) event.preventDefault();
});
