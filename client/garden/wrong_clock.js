// @ts-check
// A phone whose clock is off is told where it is seen, not only where its settings are.

const WORDS = { ahead: "screen.phone.clock_ahead", behind: "screen.phone.clock_behind" };

/**
 * @param {number} offS how far the phone's clock is ahead of the shed's
 * @returns {import("../types.js").Message}
 */
export const clockMessage = (offS) => ({
  key: offS > 0 ? WORDS.ahead : WORDS.behind,
  values: { off_minutes: Math.round(Math.abs(offS) / 60) },
});

/** @type {WeakSet<import("../garden.js").Garden>} */
const told = new WeakSet();

/**
 * Once a page, since closing the notice means that it was read.
 * @param {import("../garden.js").Garden} garden
 */
export function tellWrongClock(garden) {
  const off = garden.held.heard?.clockOff ?? null;
  if (off === null) {
    for (const key of Object.values(WORDS)) garden.closeNoticesOf(key);
    told.delete(garden);
  } else if (!told.has(garden)) {
    told.add(garden);
    garden.notice("warning", clockMessage(off));
  }
}
