// @ts-check
// What was looked for on a planting, round by round, with the limit from which to act.
import { wilsonInterval } from "../../agronomy/proportion.js";
import { findFor } from "../../rules/match.js";
import { isHelpful, plantLimit } from "../../rules/organisms.js";
import { byOrganism } from "../../rules/scouting.js";
import { meanOf, readSession, splitSessions } from "../../rules/sessions.js";

/** @typedef {import("../../rules/match.js").Context} Context */
/** @typedef {import("../../rules/sessions.js").Session} Session */
/**
 * `value` is a share or a mean count, by the measure; null where the round did not count it so.
 * @typedef {{day: number, value: number | null, low: number | null, high: number | null,
 *   looked: number | null, affected: number | null}} Round
 * @typedef {{organism: string, measure: "share" | "mean", per: string, limit: number | null,
 *   rounds: Round[]}} Looked
 */

/**
 * Each organism that was looked for while the planting lived, by name.
 * @param {Context} context of a planting
 * @param {number} firstDay
 * @param {number} lastDay
 * @returns {Looked[]}
 */
export function lookedFor(context, firstDay, lastDay) {
  const planting = /** @type {import("../../types.js").Planting} */ (context.view.planting);
  const events = findFor(context, { kind: "scout" }, planting).filter(
    ({ day }) => firstDay <= day && day <= lastDay,
  );
  return [...byOrganism(events)]
    .map(([organism, seen]) => {
      const sessions = splitSessions(seen).map(readSession);
      const known = plantLimit(context, planting, organism);
      const limit = isHelpful(context, seen[0]) ? null : known.limit;
      const { measure, per } = limit === null ? countedBy(sessions) : known;
      const rounds = sessions.map((session) => roundOf(session, measure, per));
      return { organism, measure, per, limit, rounds };
    })
    .sort((a, b) => (a.organism < b.organism ? -1 : 1));
}

/**
 * Where no limit says what to count, what was counted decides.
 * @param {Session[]} sessions
 * @returns {{measure: "share" | "mean", per: string}}
 */
function countedBy(sessions) {
  const hasShare = sessions.some((session) => session.hasShare);
  const counted = sessions.find((session) => meanOf(session) !== null);
  return hasShare || !counted
    ? { measure: "share", per: "plant" }
    : { measure: "mean", per: counted.per };
}

/**
 * @param {Session} session
 * @param {"share" | "mean"} measure
 * @param {string} per
 * @returns {Round}
 */
function roundOf(session, measure, per) {
  const { affected, looked, hasShare, events } = session;
  const { day } = events[events.length - 1];
  const told = hasShare ? { looked, affected } : { looked: null, affected: null };
  const none = { day, ...told, value: null, low: null, high: null };
  if (measure === "mean") return { ...none, value: session.per === per ? meanOf(session) : null };
  return hasShare
    ? { ...none, value: affected / looked, ...wilsonInterval(affected, looked) }
    : none;
}
