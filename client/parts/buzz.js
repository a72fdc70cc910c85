// @ts-check
// A short buzz when an entry is written, a longer one when something went wrong, for a thumb whose
// eyes are on the plants. Phones alone can; elsewhere nothing happens.

/** @typedef {import("../types.js").State} State */

/** Buzz and pause in turn, in milliseconds. @type {Record<string, number[]>} */
const PATTERNS = { done: [25], trouble: [80, 60, 80] };

/** @returns {(state: State) => void} to be called with every state */
export function makeBuzz() {
  let last = 0;
  return ({ notices, preferences }) => {
    const newest = notices.at(-1);
    if (!newest || newest.id <= last) return;
    last = newest.id;
    const pattern = PATTERNS[newest.tone];
    if (pattern && preferences.buzz === "on") navigator.vibrate?.(pattern);
  };
}
