// @ts-check
// What makes two entries the same: their content, wherever they are numbered or stored.

/** @typedef {import("../types.js").Entry} Entry */

// Renumbering changes the first two, the shed adds the others.
const NOT_CONTENT = new Set(["notebook", "number", "seq", "order", "received_at"]);

/**
 * Whether the shed would call the two the same entry.
 * @param {Entry} one
 * @param {Entry} other
 */
export const isSameContent = (one, other) => canonical(one) === canonical(other);

/** @param {Entry} entry */
const canonical = (entry) =>
  JSON.stringify(sorted(Object.fromEntries(
    Object.entries(entry).filter(([name]) => !NOT_CONTENT.has(name)))));

/**
 * Names in one order, however they were written.
 * @param {unknown} value
 * @returns {unknown}
 */
function sorted(value) {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  return Object.entries(value)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([name, inner]) => [name, sorted(inner)]);
}
