// @ts-check
/**
 * Crops that are kept apart, in one bed or in beds side by side.
 * Twin of server/shedbook/rules/beside.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import { days, familyOf, hasEnded } from "./match.js";
import { dayOf, startDay } from "./rest.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {{crop?: string, family?: string, against_crop?: string, against_family?: string,
 *   reason: string}} Pair */

/**
 * A flag for each planting near by that the rule keeps apart and whose time overlaps.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function beside(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const mine = timeOf(context, rule, planting);
  if (mine === null) return [];
  const found = [];
  /** @type {[Planting, string][]} */
  const near = [
    ...context.view.residents.map((one) => /** @type {[Planting, string]} */ ([one, "same_bed"])),
    ...context.view.neighbours.map((one) => /** @type {[Planting, string]} */ ([one, "next_bed"])),
  ];
  for (const [other, where] of near) {
    const pair = pairOf(context, rule, planting, other);
    const theirs = timeOf(context, rule, other);
    if (pair === undefined || theirs === null || other.id === planting.id) continue;
    const start = Math.max(mine.start, theirs.start);
    const end = Math.min(mine.end, theirs.end);
    if (start >= end || context.declined.has(keyPrefix(context, rule) + other.id)) continue;
    const values = { crop: planting.crop, other_crop: other.crop, other_planting: other.id };
    const why = [
      reason(`beside.${where}`, { other_planting: other.id, start_day: start }),
      reason(`beside.${pair.reason}`),
    ];
    found.push(finding(context, rule, other.id, "flagged", values, why, [planting, other]));
  }
  return found;
}

/**
 * First and last day, null if over or never set; an open end is taken from the row.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 */
function timeOf(context, rule, planting) {
  const start = startDay(planting);
  if (start === null || hasEnded(planting, context.today)) return null;
  const ends = planting.until_day ?? dayOf(planting, "ended_on");
  if (ends !== null) return { start, end: ends };
  const end = start + days(context, rule, "assumed_days");
  return { start, end: planting.from_day === undefined ? end : Math.max(end, context.today + 1) };
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} one @param {Planting} other
 * @returns {Pair | undefined}
 */
function pairOf(context, rule, one, other) {
  /** @param {Pair} pair @param {Planting} left @param {Planting} right */
  const fits = (pair, left, right) =>
    isOf(context, pair.crop, pair.family, left)
    && isOf(context, pair.against_crop, pair.against_family, right);
  return rule.params.pairs.find(
    /** @param {Pair} pair */
    (pair) => fits(pair, one, other) || fits(pair, other, one),
  );
}

/**
 * @param {Context} context @param {string | undefined} crop @param {string | undefined} family
 * @param {Planting} planting
 */
function isOf(context, crop, family, planting) {
  if (crop !== undefined) return planting.crop === crop;
  return family !== undefined && familyOf(context, planting) === family;
}
