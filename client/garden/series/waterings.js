// @ts-check
// Waterings and the gaps between them, as the rule on evenness counts them.

/** @typedef {import("../../types.js").LoggedEvent} LoggedEvent */
/** @typedef {{event: LoggedEvent, from: number, to: number, hours: number, isRunning: boolean}} Gap */

const HOUR_S = 3600;

/**
 * From each watering to the next, in instants; the last gap still runs.
 * @param {readonly LoggedEvent[]} waterings
 * @param {number} now
 * @returns {Gap[]}
 */
export function gapsBetween(waterings, now) {
  const inTime = [...waterings].sort((one, other) => one.instant - other.instant);
  return inTime.map((event, at) => {
    const next = inTime[at + 1];
    const [from, to] = [event.instant, next?.instant ?? now];
    return { event, from, to, hours: (to - from) / HOUR_S, isRunning: next === undefined };
  });
}

/**
 * The longest gap, the one that still runs among them; the earliest of equals.
 * @param {readonly Gap[]} gaps
 */
export const longestOf = (gaps) =>
  gaps.reduce((most, gap) => (gap.hours > most.hours ? gap : most), gaps[0]);
