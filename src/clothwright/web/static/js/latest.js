// @ts-check
// Questions to the server while something moves. Knows no browser.

/** Ask one question at a time; of those that come meanwhile only the last is asked.
 * @template Q, A @param {(q: Q) => Promise<A>} question
 * @returns {{ask: (q: Q) => Promise<A | null>, forget: () => void}} ask: null for a question that
 * was overtaken, or whose answer came after `forget` */
export function lastOf(question) {
  /** @type {{q: Q, done: (a: A | null) => void, failed: (e: unknown) => void} | null} */
  let next = null;
  let busy = false;
  let forgot = 0;
  const go = async () => {
    busy = true;
    while (next) {
      const { q, done, failed } = next;
      const turn = forgot;
      next = null;
      try {
        const answer = await question(q);
        done(turn === forgot ? answer : null);
      } catch (error) {
        if (turn === forgot) failed(error);
        else done(null);
      }
    }
    busy = false;
  };
  return {
    ask: (q) =>
      new Promise((done, failed) => {
        next?.done(null);
        next = { q, done, failed };
        if (!busy) go();
      }),
    forget: () => {
      forgot += 1;
      next?.done(null);
      next = null;
    },
  };
}
