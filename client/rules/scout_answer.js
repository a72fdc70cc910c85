// @ts-check
/**
 * What a round of looking decides: above its threshold, below it, or open until more is counted.
 * Twin of server/shedbook/rules/scout_answer.py.
 */
import { cleanUntilBelow, decision, linesAbout } from "../agronomy/sequential.js";
import { reason } from "./finding.js";
import { UNCOUNTED, limit, livePlants } from "./match.js";
import { isRare } from "./organisms.js";
import { meanOf } from "./sessions.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Reason} Reason */
/** @typedef {import("./organisms.js").PlantLimit} PlantLimit */
/** @typedef {import("./sessions.js").Session} Session */
/** @typedef {{answer: string, why: Reason[]}} Answer */

/**
 * How many plants there are to look at, null when they were never counted.
 * @param {Context} context @param {Planting} planting
 */
export function allPlants(context, planting) {
  const live = livePlants(planting, context.today);
  return live[0] === UNCOUNTED ? null : live.length;
}

/** @param {Session} session @param {number | null} plants */
export const isAll = (session, plants) => plants !== null && session.looked >= plants;

/**
 * Did every look of the round say outright that there was none?
 * @param {Session} session
 */
const isNone = (session) => session.events.every((event) => event.details.grade === "none");

/**
 * Above, below or open, said for the measure; and why.
 * @param {Context} context @param {Rule} rule @param {Session} session
 * @param {PlantLimit} threshold @param {number | null} plants
 * @returns {Answer}
 */
export function answerOf(context, rule, session, threshold, plants) {
  if (threshold.limit === null) {
    if (!session.hasShare) return { answer: isNone(session) ? "none_told" : "no_limit", why: [] };
    // Nothing seen is nothing to hold against a threshold; a disease is told, and not counted.
    if (session.affected === 0) return { answer: "none_found", why: [] };
    return { answer: threshold.is_disease ? "disease_found" : "no_limit", why: [] };
  }
  return threshold.measure === "share"
    ? byShare(context, rule, session, threshold.limit, plants)
    : byMean(context, rule, session, threshold, plants);
}

/**
 * @param {Context} context @param {Rule} rule @param {Session} session @param {number} threshold
 * @param {number | null} plants
 * @returns {Answer}
 */
function byShare(context, rule, session, threshold, plants) {
  if (!session.hasShare) return { answer: "no_count", why: [reason("scouting.count_plants")] };
  const { affected, looked } = session;
  const plain = affected / looked >= threshold ? "share_above" : "share_below";
  if (isAll(session, plants)) {
    return { answer: plain, why: [reason("scouting.all_plants")] };
  }
  if (!(threshold > 0 && threshold < 1)) return { answer: plain, why: [] };
  const [band, alpha, beta] =
    ["band", "alpha", "beta"].map((param) => limit(context, rule, param) ?? 0);
  const lines = linesAbout(threshold, band, alpha, beta);
  const most = limit(context, rule, "most_looked") || 1;
  const side = decision(affected, looked, threshold, lines, most);
  if (looked >= most) {
    return { answer: `share_${side}`, why: [reason("scouting.most_looked", { most })] };
  }
  const actFrom = -Math.floor(-(lines.slope * looked + lines.high));
  const leaveAt = Math.floor(lines.slope * looked + lines.low);
  const why = [reason("scouting.upper_line", { looked, act_from: actFrom })];
  if (leaveAt >= 0) why.push(reason("scouting.lower_line", { looked, leave_at: leaveAt }));
  if (side !== "not_decided") return { answer: `share_${side}`, why };
  let more = Math.min(cleanUntilBelow(affected, looked, lines), most - looked);
  if (plants !== null) more = Math.min(more, plants - looked);
  return { answer: "share_open", why: [...why, reason("scouting.look_on", { more })] };
}

/**
 * @param {Context} context @param {Rule} rule @param {Session} session
 * @param {PlantLimit} threshold @param {number | null} plants
 * @returns {Answer}
 */
function byMean(context, rule, session, threshold, plants) {
  const mean = meanOf(session);
  const { per, units } = session;
  const countUnits = reason("scouting.count_units", { per_what: threshold.per });
  if (mean === null) return { answer: "no_count", why: [countUnits] };
  if (per !== threshold.per) return { answer: "other_unit", why: [countUnits] };
  let needed = limit(context, rule, "fewest_units") || 1;
  if (per === "plant" && plants !== null) needed = Math.min(needed, plants);
  if (units < needed) {
    const more = needed - units;
    return { answer: "mean_open", why: [reason("scouting.more_units", { more, per_what: per })] };
  }
  const side = mean >= /** @type {number} */ (threshold.limit) ? "above" : "below";
  return { answer: `${isRare(threshold) ? "rare" : "mean"}_${side}`, why: [] };
}
