// Pulling a handle along its way.
import assert from "node:assert/strict";
import test from "node:test";
import { stepOf } from "../../../src/clothwright/web/static/js/holds.js";
import { keyed, pulledBy } from "../../../src/clothwright/web/static/js/pull.js";

test("only the part along the way counts, on the step", () => {
  assert.equal(pulledBy({ x: 0, y: 0 }, { x: 30, y: 7.4 }, { x: 0, y: 1 }, 1), 7);
  assert.equal(pulledBy({ x: 0, y: 0 }, { x: 0, y: -25.6 }, { x: 0, y: 1 }, stepOf("in", false)), -25.4);
});

test("arrows follow the picture; a way that lies across has more and less", () => {
  const down = { x: 0, y: 1 };
  assert.equal(keyed("ArrowDown", down, 1), 1);
  assert.equal(keyed("ArrowUp", down, 1), -1);
  assert.equal(keyed("ArrowRight", down, 1), 1);
  assert.equal(keyed("Enter", down, 1), null);
});
