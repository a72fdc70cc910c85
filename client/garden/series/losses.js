// @ts-check
// Fruit thrown out, by cause and day.

/** @typedef {import("../../types.js").LoggedEvent} LoggedEvent */
/**
 * Null where no entry told it, which is not the same as none.
 * @typedef {{day: number, count: number | null, mass_g: number | null}} LossDay
 * @typedef {{cause: string, days: LossDay[], count: number | null}} Loss
 */

/** What the shed's review calls a loss of which no cause was told. */
const UNTOLD = "other";

/**
 * Each cause with its days, earliest first; the causes by how much was counted.
 * @param {Iterable<LoggedEvent>} events
 * @param {number} firstDay
 * @param {number} lastDay
 * @returns {Loss[]}
 */
export function lossesBetween(events, firstDay, lastDay) {
  /** @type {Map<string, Map<number, LossDay>>} */
  const causes = new Map();
  for (const { kind, day, details } of events) {
    if (kind !== "discard" || day < firstDay || day > lastDay) continue;
    const cause = typeof details.cause === "string" ? details.cause : UNTOLD;
    const days = causes.get(cause) ?? new Map();
    const before = days.get(day) ?? { day, count: null, mass_g: null };
    days.set(day, {
      day,
      count: added(before.count, details.count),
      mass_g: added(before.mass_g, details.mass_g),
    });
    causes.set(cause, days);
  }
  return [...causes]
    .map(([cause, days]) => ofCause(cause, [...days.values()]))
    .sort((a, b) => (b.count ?? 0) - (a.count ?? 0) || (a.cause < b.cause ? -1 : 1));
}

/** @param {string} cause @param {LossDay[]} days @returns {Loss} */
function ofCause(cause, days) {
  days.sort((a, b) => a.day - b.day);
  /** @type {number | null} */
  let count = null;
  for (const one of days) count = added(count, one.count);
  return { cause, days, count };
}

/**
 * @param {number | null} total @param {unknown} more
 * @returns {number | null}
 */
export const added = (total, more) => (typeof more === "number" ? (total ?? 0) + more : total);
