// @ts-check
/**
 * When a planting's first fruit can be looked for: by the packet's days and by degree days.
 * Twin of server/shedbook/rules/first_pick.py.
 */
import { isAnswered } from "./answered.js";
import { HORIZON_DAYS, finding, reason } from "./finding.js";
import {
  addUp, dayAhead, dayReached, heatReasons, lastOf, missingReason, paceReason, usable,
} from "./heat_sum.js";
import { cropFact, days, hasEnded, limit, number } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */

/** More than any crop needs; what is larger was not meant so. */
const MOST_DAYS = 400;
const MOST_DEGREE_DAYS = 20_000;

/**
 * One window from the earlier estimate to the later, until something is picked.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function firstPick(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const { today } = context;
  const start = planting.from_day;
  const isPicked = planting.first_pick_day !== undefined || isAnswered(context, rule, "1");
  if (start === undefined || isPicked || hasEnded(planting, today)) return [];
  if (!(today - start > 0 && today - start <= MOST_DAYS)) return [];
  /** @type {number[]} */
  const estimates = [];
  const why = [reason("first_pick.start", { start_day: start })];
  byPacket(planting, start, estimates, why);
  byHeat(context, rule, planting, estimates, why);
  if (!estimates.length) return unknown(context, rule, planting, why);
  const margin = {
    early_days: days(context, rule, "early_days"), late_days: days(context, rule, "late_days"),
  };
  const due = Math.min(...estimates);
  const opens = due - margin.early_days;
  const closes = Math.max(...estimates) + margin.late_days;
  if (opens - today > HORIZON_DAYS) return [];
  const state = today < opens ? "upcoming" : today <= closes ? "due" : "overdue";
  /** @type {Record<string, number>} */
  const values = { opens_day: opens, closes_day: closes };
  if (state === "overdue") values.late_days = today - closes;
  why.push(reason("first_pick.margin", margin));
  return [{ ...finding(context, rule, "1", state, values, why, []), opens, due, closes }];
}

/** @param {Planting} planting @param {number} start @param {number[]} estimates @param {Reason[]} why */
function byPacket(planting, start, estimates, why) {
  const told = number(planting.days_to_maturity);
  if (told === null || !(told >= 1 && told <= MOST_DAYS)) return;
  const due = start + Math.floor(told);
  estimates.push(due);
  why.push(reason("first_pick.packet", { told_days: Math.floor(told), due_day: due }));
}

/**
 * The day on which the grower's own sum is reached, or would be at the last week's pace.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 * @param {number[]} estimates @param {Reason[]} why
 */
function byHeat(context, rule, planting, estimates, why) {
  const wanted = number(planting.degree_days_to_pick);
  if (wanted === null || !(wanted >= 1 && wanted <= MOST_DEGREE_DAYS)) return;
  const [lower, upper] = ["degree_days_lower_c", "degree_days_upper_c"]
    .map((name) => number(cropFact(context, planting.crop, name)));
  const thresholds = usable("modified", lower, upper);
  if (thresholds === null) {
    why.push(reason("first_pick.no_base"));
    return;
  }
  const heat = addUp(context, thresholds, /** @type {number} */ (planting.from_day));
  const mostMissing = limit(context, rule, "most_missing_days") ?? 0;
  const reached = dayReached(heat, wanted, mostMissing);
  if (reached === null && lastOf(heat.missing) > mostMissing) {
    why.push(missingReason(heat));
    return;
  }
  const due = reached ?? dayAhead(heat, wanted);
  why.push(...heatReasons(heat, wanted));
  if (due === null) {
    why.push(reason("first_pick.too_cold"));
    return;
  }
  estimates.push(due);
  if (reached === null) why.push(paceReason(heat, due));
}

/**
 * Asked for once the plants have stood a while, of crops that are picked over and over.
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {Reason[]} why
 * @returns {Finding[]}
 */
function unknown(context, rule, planting, why) {
  if (number(cropFact(context, planting.crop, "pick_every_days")) === null) return [];
  const stood = context.today - /** @type {number} */ (planting.from_day);
  if (stood < days(context, rule, "asks_after_days")) return [];
  const reasons = [...why, reason("first_pick.ask")];
  return [{ ...finding(context, rule, "1", "unknown", {}, reasons, []), settles: null }];
}
