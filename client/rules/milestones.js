// @ts-check
/**
 * Published events by degree days: what is near, what was reached, and what can't be told.
 * Twin of server/shedbook/rules/milestones.py.
 */
import { civilDate, dayNumber } from "../log/moment.js";
import { isAnswered } from "./answered.js";
import { HORIZON_DAYS, finding, reason } from "./finding.js";
import {
  addUp, celsiusDays, dayAhead, dayReached, heatReasons, lastOf, missingReason, paceReason,
  thresholdsOf,
} from "./heat_sum.js";
import { days, findFor, limit, number, stands, text } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */
/** @typedef {import("./heat_sum.js").HeatSum} HeatSum */
/** @typedef {{name: string, sum_f_days?: number, sum_c_days?: number}} Milestone */

/** A count that began longer ago is not of this season. */
const LONGEST_DAYS = 400;

/**
 * The next event when it is near, and those reached of late; unknown says what is missing.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function milestones(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const start = startOf(context, rule, planting);
  if (start === null || !stands(planting, context.today)) return [];
  const counted = context.today - start;
  if (!(counted > 0 && counted <= LONGEST_DAYS)) return [];
  const year = String(civilDate(start)[0]);
  const elsewhere = elsewhereReason(context, rule);
  if (elsewhere !== null) return unknown(context, rule, `${year}.place`, {}, [elsewhere]);
  const thresholds = thresholdsOf(context, rule);
  if (thresholds === null) {
    return unknown(context, rule, `${year}.place`, {}, [reason("heat.thresholds")]);
  }
  const heat = addUp(context, thresholds, start);
  const mostMissing = limit(context, rule, "most_missing_days") ?? 0;
  const found = [];
  for (const wanted of /** @type {Milestone[]} */ (rule.params.milestones)) {
    const reached = dayReached(heat, sumOf(wanted), mostMissing);
    if (reached !== null) {
      found.push(...reachedFinding(context, rule, year, wanted, heat, reached));
    } else if (lastOf(heat.missing) > mostMissing) {
      const values = { missing_days: lastOf(heat.missing), milestone: wanted.name };
      const why = [missingReason(heat), reason("heat.allowed", { most_days: mostMissing })];
      return [...found, ...unknown(context, rule, `${year}.weather`, values, why)];
    } else {
      return [...found, ...aheadFinding(context, rule, year, wanted, heat)];
    }
  }
  return found;
}

/** The sum of a milestone, which its source gives in either degree. @param {Milestone} wanted */
export const sumOf = (wanted) =>
  (wanted.sum_f_days === undefined
    ? /** @type {number} */ (wanted.sum_c_days)
    : celsiusDays(wanted.sum_f_days));

/**
 * The day that the count begins with: of the calendar, or of the planting's own work.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 */
function startOf(context, rule, planting) {
  const begins = rule.params.biofix;
  if (begins.month_day !== undefined) {
    const [month, day] = begins.month_day.split("-").map(Number);
    return dayNumber(civilDate(context.today)[0], month, day);
  }
  const done = findFor(context, begins, planting);
  return done.length ? done[0].day : null;
}

/**
 * Why the published sums can't be held to count in this garden.
 * @param {Context} context @param {Rule} rule
 */
function elsewhereReason(context, rule) {
  /** @type {string[] | undefined} */
  const regions = rule.params.regions;
  if (regions === undefined) return null;
  const { settings } = context.view;
  const region = text(settings.region);
  const latitude = number(settings.latitude_deg);
  if (region === null) return reason("heat.no_region", { regions });
  if (!regions.includes(region)) return reason("heat.other_region", { regions, region });
  if (latitude === null) return reason("heat.no_latitude");
  return latitude <= 0 ? reason("heat.south") : null;
}

/**
 * @param {Context} context @param {Rule} rule @param {string} ordinal
 * @param {Record<string, unknown>} values @param {Reason[]} why
 * @returns {Finding[]}
 */
function unknown(context, rule, ordinal, values, why) {
  if (isAnswered(context, rule, ordinal)) return [];
  return [{ ...finding(context, rule, ordinal, "unknown", values, why, []), settles: null }];
}

/**
 * @param {Context} context @param {Rule} rule @param {string} year @param {Milestone} wanted
 * @param {HeatSum} heat @param {number} reached
 * @returns {Finding[]}
 */
function reachedFinding(context, rule, year, wanted, heat, reached) {
  const ordinal = `${year}.${wanted.name}`;
  const tooOld = context.today - reached > days(context, rule, "told_for_days");
  if (tooOld || isAnswered(context, rule, ordinal)) return [];
  const values = { milestone: wanted.name, reached_day: reached };
  const why = [...heatReasons(heat, sumOf(wanted)), reason("heat.look")];
  return [{ ...finding(context, rule, ordinal, "noted", values, why, []), due: reached }];
}

/**
 * @param {Context} context @param {Rule} rule @param {string} year @param {Milestone} wanted
 * @param {HeatSum} heat
 * @returns {Finding[]}
 */
function aheadFinding(context, rule, year, wanted, heat) {
  const needed = sumOf(wanted);
  const ordinal = `${year}.${wanted.name}`;
  const due = dayAhead(heat, needed);
  const near = lastOf(heat.totals) >= needed * (limit(context, rule, "horizon_share") ?? 0);
  if (due === null || !near || due - context.today > HORIZON_DAYS) return [];
  if (isAnswered(context, rule, ordinal)) return [];
  const values = { milestone: wanted.name, due_day: due };
  const why = [...heatReasons(heat, needed), paceReason(heat, due), reason("heat.look")];
  const made = finding(context, rule, ordinal, "upcoming", values, why, []);
  return [{ ...made, opens: due, due }];
}
