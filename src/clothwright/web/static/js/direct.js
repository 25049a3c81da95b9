// @ts-check
// A piece pulled by its handles: the knob moves at once, the server says what the piece and its
// seams would be, one question under way at a time; letting go makes one change of the list.
import { once } from "./asking.js";
import { say, send } from "./edit.js";
import { dragByFinger, follow, onDrawing } from "./fingers.js";
import { stepOf } from "./holds.js";
import { moveByKeys } from "./keys.js";
import { lastOf } from "./latest.js";
import { keyed, pulledBy } from "./pull.js";

dragByFinger(".pull");

/** @returns {HTMLElement | null} */
const table = () => document.getElementById("direct");

/** @param {SVGElement} knob */
const wayOf = (knob) => ({ x: Number(knob.dataset.wx), y: Number(knob.dataset.wy) });

/** @param {SVGElement} knob @param {number} mm */
function show(knob, mm) {
  const way = wayOf(knob);
  const x = Number(knob.dataset.x) + way.x * mm;
  const y = Number(knob.dataset.y) + way.y * mm;
  const turn = (Math.atan2(way.y, way.x) * 180) / Math.PI;
  knob.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)}) rotate(${turn.toFixed(2)})`);
  knob.setAttribute("aria-valuenow", mm.toFixed(1));
}

/** @type {{kind: string, params: Record<string, unknown>, mm: number} | null} */
let last = null;

/** @param {string} words @param {string} kind */
function told(words, kind) {
  const line = document.getElementById("pulled");
  if (!line) return;
  line.textContent = words;
  line.className = `words ${kind}`;
}

const questions = lastOf((/** @type {{knob: SVGElement, mm: number}} */ { knob, mm }) => {
  const book = encodeURIComponent(document.body.dataset.book ?? "");
  return once(`/b/${book}/direct/try`, JSON.stringify({ piece: table()?.dataset.piece, key: knob.dataset.key, mm }));
});

/** Ask what a pull would make, and show it. @param {SVGElement} knob @param {number} mm */
async function ask(knob, mm) {
  const said = await questions.ask({ knob, mm });
  if (!said) return;
  if (said.sentence !== undefined) {
    last = null;
    told(said.sentence, "bad");
    return;
  }
  last = { kind: said.kind, params: said.params, mm };
  knob.setAttribute("aria-valuetext", said.shown);
  const ghost = document.querySelector(".ghost");
  ghost?.setAttribute("d", said.outline);
  ghost?.removeAttribute("hidden");
  told(said.words, "");
  for (const row of said.seams) {
    const line = document.querySelector(`#walks [data-key="${CSS.escape(row.name)}"]`);
    const cell = line?.querySelector("[data-now]");
    if (line) line.setAttribute("class", row.kind);
    if (cell) cell.textContent = row.now;
  }
}

/** @param {SVGElement} knob */
function giveUp(knob) {
  questions.forget();
  last = null;
  show(knob, 0);
  document.querySelector(".ghost")?.setAttribute("hidden", "");
  document.querySelectorAll("#walks tr").forEach((line) => {
    const cell = line.querySelector("[data-now]");
    if (cell && line.children[1]) cell.textContent = line.children[1].textContent;
  });
  told("Given up; nothing was changed.", "");
}

/** @param {SVGElement} knob @param {number} mm */
async function keep(knob, mm) {
  if (!mm) return giveUp(knob);
  await ask(knob, mm);
  const done = last;
  if (!done || Math.abs(done.mm - mm) > 1e-6) {
    const why = document.getElementById("pulled")?.textContent ?? "";
    show(knob, 0);
    document.querySelector(".ghost")?.setAttribute("hidden", "");
    return say(why, false);
  }
  const answer = await send({ edit: "add-change", kind: done.kind, params: done.params, why: "pulled on the piece" });
  last = null;
  if (!answer.ok) return giveUp(knob);
  const again = document.querySelector(`.pull[data-key="${CSS.escape(knob.dataset.key ?? "")}"]`);
  if (again instanceof SVGElement) {
    show(again, 0);
    again.focus();
  }
  document.querySelector(".ghost")?.setAttribute("hidden", "");
}

document.addEventListener("pointerdown", (event) => {
  const knob = event.target instanceof Element ? event.target.closest(".pull") : null;
  if (!(knob instanceof SVGElement) || event.button !== 0) return;
  event.preventDefault();
  knob.focus();
  const from = onDrawing(knob, event);
  const step = stepOf(table()?.dataset.step ?? "mm", false);
  let mm = 0;
  /** @param {PointerEvent} e */
  const move = (e) => {
    const now = pulledBy(from, onDrawing(knob, e), wayOf(knob), step);
    if (now === mm) return;
    mm = now;
    show(knob, mm);
    ask(knob, mm);
  };
  follow(knob, event, move, (kept) => (kept ? keep(knob, mm) : giveUp(knob)));
});

moveByKeys(".pull", {
  from: () => 0,
  by: (knob, mm, event) => {
    const by = keyed(event.key, wayOf(knob), stepOf(table()?.dataset.step ?? "mm", event.shiftKey));
    return by === null ? null : mm + by;
  },
  show: (knob, mm) => {
    show(knob, mm);
    ask(knob, mm);
  },
  keep,
  giveUp,
});

document.addEventListener("keydown", (event) => {
  const edge = event.target instanceof Element ? event.target.closest(".direct-pic .edge") : null;
  if (!(edge instanceof SVGElement) || (event.key !== "Enter" && event.key !== " ")) return;
  event.preventDefault();
  told(edge.dataset.words ?? "", "");
});

document.addEventListener("click", (event) => {
  const edge = event.target instanceof Element ? event.target.closest(".direct-pic .edge") : null;
  if (edge instanceof SVGElement) told(edge.dataset.words ?? "", "");
});
