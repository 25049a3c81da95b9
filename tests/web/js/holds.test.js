// The geometry of the handles on a cloth, and the values they become.
import assert from "node:assert/strict";
import { test } from "node:test";
import { cornersOf, dragged, gathered, listOf, pressed, shift, snapped, valuesFor, written } from "../../../src/clothwright/web/static/js/holds.js";

const lower = { mm: 80, axis: "y", sign: 1, least: 0, most: 500 };
const upper = { ...lower, sign: -1 };
const along = { mm: 20, axis: "x", sign: 1, least: 0, most: 2000 };

test("a line is dragged the way the picture goes: up on the screen is away from the lower selvedge", () => {
  assert.equal(dragged(lower, { x: 0, y: 0 }, { x: 7, y: -15.2 }, 1), 95);
  assert.equal(dragged(upper, { x: 0, y: 0 }, { x: 7, y: -15.2 }, 1), 65);
  assert.equal(dragged(along, { x: 0, y: 0 }, { x: 7.4, y: 99 }, 1), 27);
});

test("it stays inside what the value may be, on the step", () => {
  assert.equal(dragged(lower, { x: 0, y: 0 }, { x: 0, y: 900 }, 1), 0);
  assert.equal(snapped(81.2, lower, 25.4 / 8), 82.55);
  assert.equal(snapped(600, lower, 1), 500);
});

test("keys move a step, with Shift eight; arrows follow the picture, other keys are not ours", () => {
  assert.equal(pressed(lower, "ArrowUp", false, "cm"), 81);
  assert.equal(pressed(upper, "ArrowUp", false, "cm"), 79);
  assert.equal(pressed(upper, "PageUp", false, "cm"), 88);
  assert.equal(pressed({ ...lower, mm: 82.55 }, "ArrowUp", false, "in"), 85.725);
  assert.equal(pressed({ ...lower, mm: 76.2 }, "ArrowUp", true, "in"), 76.2 + 25.4);
  assert.equal(pressed(lower, "End", false, "cm"), 500);
  assert.equal(pressed(lower, "a", false, "cm"), null);
});

test("the line is shown where the value lies", () => {
  assert.deepEqual(shift(lower, 90), { x: 0, y: -10 });
  assert.deepEqual(shift(upper, 90), { x: 0, y: 10 });
  assert.deepEqual(shift(along, 90), { x: 70, y: 0 });
});

test("a handle becomes an edit: one entry, or the list of borders with one entry changed", () => {
  assert.equal(written(82.55000001), "82.55 mm");
  assert.deepEqual(valuesFor("repeat_along", 60, []), { print: { repeat_along: "60 mm" } });
  const rows = [{ name: "a", base: "1 in" }, { name: "b", base: "2 in" }];
  assert.deepEqual(valuesFor("border.1.base", 60, rows), { print: { border: [rows[0], { name: "b", base: "60 mm" }] } });
});

test("fields become tables and lists; what is empty goes", () => {
  assert.deepEqual(
    gathered([["nap", true], ["price_per_m", ""], ["print.border.0.name", "vine"], ["print.border.0.repeat", ""], ["print.axes_along", ["0", "3"]]]),
    { nap: true, price_per_m: null, print: { border: [{ name: "vine" }], axes_along: ["0", "3"] } },
  );
  assert.deepEqual(listOf(" 1 in; 3/4 in ;"), ["1 in", "3/4 in"]);
  assert.deepEqual(cornersOf("1 in by 2 in\n3 in × 4 in\n"), [["1 in", "2 in"], ["3 in", "4 in"]]);
});
