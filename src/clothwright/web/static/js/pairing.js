// @ts-check
// Which old child becomes which new one. No browser in here.

/** For each new key the place of the old child that is kept for it, or -1 for a fresh one.
 * Named children ("#piece", "[3]") meet by name, the others in order by tag.
 * @param {string[]} old @param {string[]} fresh @returns {number[]} */
export function pairUp(old, fresh) {
  const free = new Map();
  old.forEach((key, at) => {
    const places = free.get(key) ?? [];
    places.push(at);
    free.set(key, places);
  });
  return fresh.map((key) => {
    const places = free.get(key);
    return places && places.length ? /** @type {number} */ (places.shift()) : -1;
  });
}

/** A form's fields as plain data: "params.amount" goes into a table, "edges[]" into a list.
 * @param {Iterable<[string, string]>} fields @returns {Record<string, any>} */
export function nested(fields) {
  /** @type {Record<string, any>} */
  const out = {};
  for (const [name, value] of fields) {
    const list = name.endsWith("[]");
    const parts = (list ? name.slice(0, -2) : name).split(".");
    const last = /** @type {string} */ (parts.pop());
    let at = out;
    for (const part of parts) at = at[part] ??= {};
    if (list) (at[last] ??= []).push(value);
    else at[last] = value;
  }
  return out;
}
