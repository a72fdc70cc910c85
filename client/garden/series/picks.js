// @ts-check
// What was picked, day by day and added up. A pick that was not weighed adds nothing to the mass and
// is counted as left out, so that a total never passes for more than it rests on.
import { added } from "./losses.js";

/** @typedef {import("../../types.js").LoggedEvent} LoggedEvent */
/** @typedef {"mass_g" | "count"} Measure */
/**
 * `picked` is null where no pick of the day tells it; `left_out` are the picks that do not.
 * @typedef {{day: number, picked: number | null, total: number, left_out: number}} PickDay
 * @typedef {{measure: Measure, days: PickDay[], total: number | null, picks: number,
 *   left_out: number}} Picks
 */

/**
 * @param {Iterable<LoggedEvent>} events
 * @param {Measure} measure
 * @returns {Picks}
 */
export function picksBy(events, measure) {
  const picks = [...events].filter(({ kind }) => kind === "pick").sort((a, b) => a.day - b.day);
  /** @type {PickDay[]} */
  const days = [];
  /** @type {number | null} */
  let total = null;
  for (const { day, details } of picks) {
    const told = details[measure];
    const isTold = typeof told === "number";
    total = added(total, told);
    const last = days.at(-1);
    const before = last?.day === day ? /** @type {PickDay} */ (days.pop()) : undefined;
    days.push({
      day,
      picked: added(before?.picked ?? null, told),
      total: total ?? 0,
      left_out: (before?.left_out ?? 0) + (isTold ? 0 : 1),
    });
  }
  const left_out = days.reduce((count, one) => count + one.left_out, 0);
  return { measure, days, total, picks: picks.length, left_out };
}

/**
 * The same for each square metre, in the measure's own unit.
 * @param {Picks} picks @param {number} areaM2
 * @returns {Picks}
 */
export const perSquareMetre = (picks, areaM2) => ({
  ...picks,
  days: picks.days.map((one) => ({
    ...one,
    picked: one.picked === null ? null : one.picked / areaM2,
    total: one.total / areaM2,
  })),
  total: picks.total === null ? null : picks.total / areaM2,
});

/**
 * The ground of all plants that went in, by their spacing, as the shed's review counts it; null
 * where it was not told.
 * @param {import("../../types.js").Planting} planting
 */
export function areaOf({ plants, in_row_m: inRow, between_rows_m: between }) {
  const isTold = [plants, inRow, between].every((one) => typeof one === "number" && one > 0);
  return isTold ? Number(plants) * Number(inRow) * Number(between) : null;
}
