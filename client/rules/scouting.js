// @ts-check
/**
 * What the latest round of looking at plants, or a trap, says against its action threshold.
 * Twin of server/shedbook/rules/scouting.py.
 */
import { AgronomyError } from "../agronomy/errors.js";
import { wilsonInterval } from "../agronomy/proportion.js";
import { finding, keyPrefix, reason } from "./finding.js";
import { days, findFor, hasEnded, text } from "./match.js";
import { nearRemoved } from "./near_removed.js";
import { isHelpful, limitReasons, limitValues, plantLimit } from "./organisms.js";
import { allPlants, answerOf, isAll } from "./scout_answer.js";
import { meanOf, readSession, splitSessions } from "./sessions.js";
import { trapCatch } from "./trap_catch.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */
/** @typedef {import("./organisms.js").PlantLimit} PlantLimit */
/** @typedef {import("./sessions.js").Session} Session */
/** @typedef {import("./scout_answer.js").Answer} Answer */

/** What an answer asks of the grower. @type {Map<string, Finding["state"]>} */
const STATES = new Map([
  ["above", "due"], ["below", "noted"], ["open", "unknown"], ["found", "noted"], ["told", "noted"],
]);

/**
 * A finding for each organism looked for, each trap that was read, or each removal.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function scouting(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  if (hasEnded(planting, context.today)) return [];
  const { watches } = rule.params;
  if (watches !== "scout") {
    return watches === "trap_read" ? trapCatch(context, rule) : nearRemoved(context, rule);
  }
  const latest = latestRounds(context, rule, planting);
  const helpers = latest
    .filter(({ events }) => isHelpful(context, events[0]))
    .map(({ name }) => name);
  return latest.flatMap(({ name, events }) => {
    if (context.declined.has(keyPrefix(context, rule) + events[0].id)) return [];
    const session = readSession(events);
    return helpers.includes(name)
      ? [ofHelper(context, rule, name, session)]
      : [ofPest(context, rule, planting, name, session, helpers)];
  });
}

/**
 * The events in groups of what they are about, in the order given.
 * @param {Event[]} events
 */
export function byOrganism(events) {
  /** @type {Map<string, Event[]>} */
  const groups = new Map();
  for (const event of events) {
    const name = text(event.details.organism);
    if (!name) continue;
    const group = groups.get(name) ?? [];
    groups.set(name, group);
    group.push(event);
  }
  return groups;
}

/**
 * The latest round for each organism, while it is recent enough to go by.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 */
function latestRounds(context, rule, planting) {
  const since = context.today - days(context, rule, "window_days");
  const groups = byOrganism(findFor(context, { kind: "scout" }, planting));
  return [...groups].flatMap(([name, all]) => {
    const events = splitSessions(all).slice(-1)[0];
    return events[events.length - 1].day >= since ? [{ name, events }] : [];
  });
}

/** @param {Context} context @param {Rule} rule @param {string} name @param {Session} session */
function ofHelper(context, rule, name, session) {
  const { events } = session;
  const made = finding(context, rule, events[0].id, "noted", counted(name, session), [], events);
  return say(rule, made, "helper", [lookedOn(session)]);
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {string} name
 * @param {Session} session @param {string[]} helpers
 */
function ofPest(context, rule, planting, name, session, helpers) {
  const { events } = session;
  const threshold = plantLimit(context, planting, name);
  const values = { ...counted(name, session), ...limitValues(threshold) };
  const plants = allPlants(context, planting);
  const { answer, why } = answerOrOdd(context, rule, session, threshold, plants);
  const state = STATES.get(answer.slice(answer.lastIndexOf("_") + 1)) ?? "unknown";
  const made = finding(context, rule, events[0].id, state, values, [], events);
  const reasons = [
    lookedOn(session), ...figures(session, plants), ...limitReasons(planting, threshold), ...why,
  ];
  if (helpers.length) reasons.push(reason("scouting.helpers", { organisms: helpers }));
  if (state === "due") reasons.push(reason("scouting.before_acting"));
  return say(rule, made, answer, reasons);
}

/**
 * The same state is said in other words for a share, a count and a helper.
 * @param {Rule} rule @param {Finding} made @param {string} answer @param {Reason[]} reasons
 */
function say(rule, made, answer, reasons) {
  made.message.key = `${rule.says ?? rule.shape}.${answer}`;
  made.reasons = reasons;
  return made;
}

/** @param {Session} session */
const lookedOn = ({ events }) =>
  reason("done.scout", { done_day: events[events.length - 1].day });

/** The share with its interval, empty when it is not known. @param {Session} session */
function shareOf({ hasShare, affected, looked }) {
  if (!hasShare) return {};
  const { low, high } = wilsonInterval(affected, looked);
  return { looked, affected, affected_share: affected / looked, low_share: low, high_share: high };
}

/**
 * The figures of a round; those that are not known are left out.
 * @param {string} name @param {Session} session
 */
function counted(name, session) {
  const mean = meanOf(session);
  const means = mean === null ? {} : { mean, per_hundred: mean * 100 };
  return { organism: name, ...shareOf(session), ...means };
}

/**
 * The arithmetic of a round: the share with its interval, the mean, how counts lie.
 * @param {Session} session @param {number | null} plants
 */
function figures(session, plants) {
  const { hasShare, total, units, per, counts } = session;
  const mean = meanOf(session);
  const ratio = ratioOf(counts);
  const made = [];
  const key = isAll(session, plants) ? "scouting.share_all" : "scouting.share";
  if (hasShare) made.push(reason(key, shareOf(session)));
  if (mean !== null) made.push(reason("scouting.mean", { total, units, mean, per_what: per }));
  if (ratio !== null) {
    made.push(reason(ratio > 1 ? "scouting.clumped" : "scouting.not_clumped", { ratio }));
  }
  return made;
}

/**
 * Variance to mean of the counts, null for fewer than two or nothing found.
 * @param {number[]} counts
 */
function ratioOf(counts) {
  let total = 0;
  for (const count of counts) total += count;
  if (counts.length < 2 || total === 0) return null;
  const mean = total / counts.length;
  let squares = 0;
  for (const count of counts) squares += (count - mean) * (count - mean);
  return squares / (counts.length - 1) / mean;
}

/**
 * @param {Context} context @param {Rule} rule @param {Session} session
 * @param {PlantLimit} threshold @param {number | null} plants
 * @returns {Answer}
 */
function answerOrOdd(context, rule, session, threshold, plants) {
  try {
    return answerOf(context, rule, session, threshold, plants);
  } catch (error) {
    if (error instanceof AgronomyError) return { answer: "odd_plan", why: [] };
    throw error;
  }
}
