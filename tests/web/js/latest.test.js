// @ts-check
import assert from "node:assert/strict";
import { test } from "node:test";
import { lastOf } from "../../../src/clothwright/web/static/js/latest.js";

test("one question at a time, and of those that wait only the last", async () => {
  /** @type {number[]} */
  const asked = [];
  /** @type {Array<() => void>} */
  const go = [];
  const { ask } = lastOf(async (/** @type {number} */ q) => {
    asked.push(q);
    await new Promise((done) => go.push(() => done(undefined)));
    return q * 10;
  });
  const answers = [ask(1), ask(2), ask(3)];
  await Promise.resolve();
  go[0]();
  assert.equal(await answers[0], 10);
  await new Promise((done) => setTimeout(done, 0));
  go[1]();
  assert.deepEqual(await Promise.all(answers), [10, null, 30]);
  assert.deepEqual(asked, [1, 3]);
});

test("a question that fails does not stop those after it", async () => {
  const { ask } = lastOf(async (/** @type {number} */ q) => {
    if (q === 1) throw new Error("away");
    return q;
  });
  await assert.rejects(ask(1));
  assert.equal(await ask(2), 2);
});

test("what is forgotten is not answered, and the next question is", async () => {
  /** @type {Array<() => void>} */
  const go = [];
  const { ask, forget } = lastOf(async (/** @type {number} */ q) => {
    await new Promise((done) => go.push(() => done(undefined)));
    if (q === 1) throw new Error("late");
    return q;
  });
  const answers = [ask(1), ask(2)];
  forget();
  go[0]();
  assert.deepEqual(await Promise.all(answers), [null, null]);
  const after = ask(3);
  await new Promise((done) => setTimeout(done, 0));
  go[1]();
  assert.equal(await after, 3);
});
