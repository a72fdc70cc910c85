// @ts-check
/**
 * Degree days that add up from a day on: the sum, the days without weather, and the pace.
 * Twin of server/shedbook/rules/heat_sum.py.
 */
import { average, modifiedAverage, singleSine } from "../agronomy/degree_days.js";
import { reason } from "./finding.js";
import { limit, number } from "./match.js";
import { pastAir } from "./past_air.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Rule} Rule */
/**
 * Between what temperatures a day counts, and by which method.
 * @typedef {{method: string, lowerC: number, upperC: number | null}} Thresholds
 */
/**
 * What added up from the first day to yesterday; `totals` and `missing` have one for each day:
 * the sum so far and the days without weather so far.
 * @typedef {{thresholds: Thresholds, firstDay: number, lastDay: number, totals: number[],
 *   missing: number[], missingDays: number[], filled: number}} HeatSum
 */

/** A sum of many small numbers may miss a round figure by its last bits. */
export const HAIR = 1e-9;
const PACE_DAYS = 7;
const WARMEST_C = 60;

/** A temperature that its source gives in degrees Fahrenheit. @param {number} fahrenheit */
export const celsius = (fahrenheit) => ((fahrenheit - 32) * 5) / 9;

/** A sum that its source gives in Fahrenheit degree days. @param {number} fahrenheitDays */
export const celsiusDays = (fahrenheitDays) => (fahrenheitDays * 5) / 9;

/**
 * The row's thresholds, or the garden's own; null if no day could count between them.
 * @param {Context} context @param {Rule} rule
 */
export function thresholdsOf(context, rule) {
  const [lower, upper] = ["lower", "upper"].map((name) => threshold(context, rule, name));
  return usable(rule.params.method ?? "modified", lower, upper);
}

/**
 * The thresholds, null if they are missing or leave no room between them.
 * @param {string} method @param {number | null} lowerC @param {number | null} upperC
 * @returns {Thresholds | null}
 */
export function usable(method, lowerC, upperC) {
  if (lowerC === null || !(lowerC >= 0 && lowerC < WARMEST_C)) return null;
  if (upperC !== null && !(lowerC < upperC && upperC <= WARMEST_C)) return null;
  return { method, lowerC, upperC };
}

/** @param {Context} context @param {Rule} rule @param {string} name */
function threshold(context, rule, name) {
  const chosen = limit(context, rule, `${name}_c`);
  const published = number(rule.params[`${name}_f`]);
  return chosen === null && published !== null ? celsius(published) : chosen;
}

/**
 * The sum over the days from the first to yesterday; a day without weather adds nothing.
 * @param {Context} context @param {Thresholds} thresholds @param {number} firstDay
 */
export function addUp(context, thresholds, firstDay) {
  /** @type {HeatSum} */
  const heat = {
    thresholds, firstDay, lastDay: context.today - 1, totals: [], missing: [], missingDays: [],
    filled: 0,
  };
  let total = 0;
  for (const one of pastAir(context, firstDay)) {
    if (one.how === "missing") {
      heat.missingDays.push(one.day);
    } else {
      total += degreesOf(thresholds, one.low_c, one.high_c);
      heat.filled += one.how === "filled" ? 1 : 0;
    }
    heat.totals.push(total);
    heat.missing.push(heat.missingDays.length);
  }
  return heat;
}

/** @param {Thresholds} thresholds @param {number} lowC @param {number} highC */
function degreesOf({ method, lowerC, upperC }, lowC, highC) {
  if (method === "sine") return singleSine(lowC, highC, lowerC, upperC);
  if (method === "modified") return modifiedAverage(lowC, highC, lowerC, upperC);
  if (upperC === null) return average(lowC, highC, lowerC);
  return average(Math.min(lowC, upperC), Math.min(highC, upperC), lowerC);
}

/**
 * The day that completed the sum, if few enough days before it went without weather.
 * @param {HeatSum} heat @param {number} wanted @param {number} mostMissing
 */
export function dayReached(heat, wanted, mostMissing) {
  for (const [at, total] of heat.totals.entries()) {
    if (heat.missing[at] > mostMissing) return null;
    if (total >= wanted - HAIR) return heat.firstDay + at;
  }
  return null;
}

/** Degree days a day over the last week of the span that had weather. @param {HeatSum} heat */
export function pace(heat) {
  const counted = Math.min(PACE_DAYS, heat.totals.length);
  if (counted === 0) return 0;
  const before = heat.totals.length - counted;
  const earlier = before > 0 ? heat.totals[before - 1] : 0;
  const lost = lastOf(heat.missing) - (before > 0 ? heat.missing[before - 1] : 0);
  return counted > lost ? (lastOf(heat.totals) - earlier) / (counted - lost) : 0;
}

/**
 * The day that would complete the sum at the pace of the last week; null at a standstill.
 * @param {HeatSum} heat @param {number} wanted
 */
export function dayAhead(heat, wanted) {
  const aDay = pace(heat);
  if (aDay <= HAIR) return null;
  const days = (wanted - lastOf(heat.totals)) / aDay - HAIR;
  return days < PACE_DAYS * 100 ? heat.lastDay - Math.floor(-days) : null;
}

/** The last of the numbers, 0 if there are none. @param {number[]} numbers */
export const lastOf = (numbers) => (numbers.length ? numbers[numbers.length - 1] : 0);

/**
 * How the sum was counted and how far it is.
 * @param {HeatSum} heat @param {number} wanted
 */
export function heatReasons(heat, wanted) {
  const { method, lowerC, upperC } = heat.thresholds;
  const counted = { start_day: heat.firstDay, lower_c: lowerC, heat_method: method };
  const why = [
    upperC === null
      ? reason("heat.from", counted)
      : reason("heat.between", { ...counted, upper_c: upperC }),
    reason("heat.sum", {
      sum_c_days: lastOf(heat.totals), wanted_c_days: wanted, to_day: heat.lastDay,
    }),
  ];
  if (heat.filled > 0) {
    why.push(reason("heat.filled", { filled: heat.filled, of: heat.totals.length }));
  }
  if (heat.missingDays.length) why.push(missingReason(heat));
  return why;
}

/** Which days went without weather. @param {HeatSum} heat */
export const missingReason = ({ missingDays }) => reason("heat.missing", {
  missing: missingDays.length, first_day: missingDays[0], last_day: lastOf(missingDays),
});

/** How a day still to come was reckoned. @param {HeatSum} heat @param {number} due */
export const paceReason = (heat, due) => reason("heat.pace", {
  pace_c_days: pace(heat), pace_days: Math.min(PACE_DAYS, heat.totals.length), due_day: due,
});
