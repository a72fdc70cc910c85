// @ts-check
/**
 * Crops that are kept apart or grown together, in one bed or in beds side by side.
 * Twin of server/shedbook/rules/beside.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import { days, familyOf, hasEnded } from "./match.js";
import { dayOf, startDay } from "./timing.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("../types.js").Message} Reason */
/**
 * Two crops or families, with the prefix of the other side in the name of its fields.
 * @typedef {Record<string, string> & {reason: string, grade: string, source: string,
 *   good?: boolean}} Pair
 */

/**
 * For each planting near by whose time overlaps: a flag if kept apart, a note if welcome.
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
    const theirs = timeOf(context, rule, other);
    if (theirs === null || other.id === planting.id) continue;
    const pair = pairOf(context, rule, planting, other);
    if (pair === undefined) continue;
    const start = Math.max(mine.start, theirs.start);
    const end = Math.min(mine.end, theirs.end);
    if (start >= end || context.declined.has(keyPrefix(context, rule) + other.id)) continue;
    const why = [reason(`beside.${where}`, { other_planting: other.id, start_day: start })];
    found.push(toldOfPair(context, rule, pair, other, why));
  }
  return found;
}

/**
 * The first pair of the row that the two make, whichever of them comes first.
 * @param {Context} context @param {Rule} rule @param {Planting} one @param {Planting} other
 * @returns {Pair | undefined}
 */
function pairOf(context, rule, one, other) {
  /** @param {Pair} pair @param {Planting} left @param {Planting} right */
  const fits = (pair, left, right) =>
    isOf(context, pair, "", left) && isOf(context, pair, "against_", right);
  return rule.params.pairs.find(
    /** @param {Pair} pair */
    (pair) => fits(pair, one, other) || fits(pair, other, one),
  );
}

/**
 * Is the planting of the crop or family on that side of the pair?
 * @param {Context} context @param {Pair} pair @param {string} side @param {Planting} planting
 */
export function isOf(context, pair, side, planting) {
  const crop = pair[`${side}crop`];
  if (crop !== undefined) return planting.crop === crop;
  const family = pair[`${side}family`];
  return family !== undefined && familyOf(context, planting) === family;
}

/**
 * A flag or, where the two do each other good, a note; with who says so.
 * @param {Context} context @param {Rule} rule @param {Pair} pair @param {Planting} other
 * @param {Reason[]} where
 * @returns {Finding}
 */
export function toldOfPair(context, rule, pair, other, where) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const values = {
    crop: planting.crop ?? null, other_crop: other.crop ?? null, other_planting: other.id,
    evidence: pair.grade,
  };
  const why = [
    ...where,
    reason(`beside.${pair.reason}`),
    reason("beside.by", { evidence: pair.grade, source: pair.source }),
  ];
  const state = pair.good === true ? "noted" : "flagged";
  const made = finding(context, rule, other.id, state, values, why, [planting, other]);
  return state === "noted" ? { ...made, settles: null } : made;
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
