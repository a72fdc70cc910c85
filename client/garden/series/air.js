// @ts-check
// Lows and highs of the days of a planting, against the limits that the rule on fruit set counts by.
import { bloomOf, isPast, limitsOf } from "../../rules/fruit_set.js";
import { pastAir } from "../../rules/past_air.js";

/** @typedef {import("../../rules/match.js").Context} Context */
/** @typedef {import("../../rules/match.js").Rule} Rule */
/** @typedef {import("../../rules/fruit_set.js").Limits} Limits */
/** @typedef {import("../../rules/daily.js").Day & {isPast: boolean}} AirDay */
/**
 * `bloom_day` is null while no flower is open; days are past the limits only from then on.
 * @typedef {{days: AirDay[], limits: Limits, bloom_day: number | null, past: number,
 *   known: number}} Air
 */

/**
 * Every day since the planting stands, up to yesterday; null before it stands.
 * @param {Context} context of a planting
 * @param {Rule} rule
 * @returns {Air | null}
 */
export function airOf(context, rule) {
  const from = context.view.planting?.from_day;
  if (from === undefined) return null;
  const [limits, strong] = [limitsOf(context, rule, ""), limitsOf(context, rule, "strong_")];
  const bloom = bloomOf(context, rule)?.day ?? null;
  const isIn = (/** @type {number} */ day) => bloom !== null && day >= bloom;
  const days = pastAir(context, from).map((one) => ({
    ...one,
    isPast: isIn(one.day) && (isPast(one, limits) || isPast(one, strong)),
  }));
  const counted = days.filter(({ day, how }) => isIn(day) && how !== "missing");
  return {
    days,
    limits,
    bloom_day: bloom,
    past: counted.filter((one) => one.isPast).length,
    known: counted.length,
  };
}
