// @ts-check
// When to try again, and what to do with what the server says. No browser in here.

/** Milliseconds to wait before the nth try (from 0): soon at first, then every eight seconds.
 * @param {number} tries @returns {number} */
export function nextWait(tries) {
  return Math.min(8000, 250 * 2 ** Math.min(tries, 10));
}

/** @typedef {{kind: string, revision?: number | null, run?: string, topic?: string, words?: string, share?: number | null}} Said */
/** @typedef {{run: string, revision: number}} Known */

/** What a message means for a page that knows `known`: the topics it should look at again.
 * @param {Known} known @param {Said} said @returns {{known: Known, topics: string[]}} */
export function heard(known, said) {
  const revision = typeof said.revision === "number" ? said.revision : known.revision;
  const moved = revision !== known.revision;
  if (said.kind === "hello") {
    const again = known.run !== "" && known.run !== said.run;
    return { known: { run: said.run ?? "", revision }, topics: moved || again ? ["book"] : [] };
  }
  if (said.kind === "event") {
    const topic = said.topic ?? "";
    if (topic === "book") return { known: { ...known, revision }, topics: moved ? ["book"] : [] };
    return { known, topics: topic ? [topic] : [] };
  }
  return { known, topics: [] };
}
