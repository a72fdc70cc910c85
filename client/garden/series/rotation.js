// @ts-check
// Which planting stood in which bed in which years.
import { civilDate, parseDay } from "../../log/moment.js";

/** @typedef {import("../../types.js").Planting} Planting */
/** @typedef {{planting: Planting, bed: string, first: number, last: number, isPlanned: boolean}}
 *   Stand years from the first to the last */

/**
 * Every planting with a bed and a date; from the year it was set out, or is to be, to its end.
 * @param {readonly Planting[]} plantings
 * @param {number} today
 * @returns {Stand[]}
 */
export const standsOf = (plantings, today) =>
  plantings.flatMap((planting) => {
    const from = planting.from_day ?? plannedDay(planting.planned_on);
    if (!planting.bed || from === undefined) return [];
    const until = planting.until_day ?? Math.max(from, planting.standing ? today : from);
    const [[first], [last]] = [civilDate(from), civilDate(until)];
    const isPlanned = planting.from_day === undefined;
    return [{ planting, bed: planting.bed, first, last, isPlanned }];
  });

/** @param {unknown} text */
const plannedDay = (text) => (typeof text === "string" ? parseDay(text) : undefined);

/**
 * From the newest to the oldest: what is asked for most stands first, on a narrow screen too.
 * @param {readonly Stand[]} stands
 */
export function yearsOf(stands) {
  const newest = Math.max(...stands.map(({ last }) => last));
  const oldest = Math.min(...stands.map(({ first }) => first));
  return Array.from({ length: newest - oldest + 1 }, (_, at) => newest - at);
}

/**
 * What stood in a bed in a year, in the order in which it came.
 * @param {readonly Stand[]} stands @param {string} bed @param {number} year
 */
export const standingIn = (stands, bed, year) =>
  stands
    .filter((one) => one.bed === bed && one.first <= year && year <= one.last)
    .sort((a, b) => (a.planting.from_day ?? Infinity) - (b.planting.from_day ?? Infinity) || 0);
