// @ts-check
/**
 * One round of looking at plants: what was logged of one organism within a day, put together.
 * Entries that name plants say which ones; entries that don't are samples, which add up. Where
 * both were written in one round, the named plants are taken to be among the samples.
 * Twin of server/shedbook/rules/sessions.py.
 */
import { namedPlants, number, text } from "./match.js";

/** @typedef {import("./match.js").Event} Event */
/**
 * What one round found: plants looked at and affected, counts per unit, and the plants known one
 * by one; `hasShare` is whether the affected among those looked at are known.
 * @typedef {{events: Event[], looked: number, affected: number, hasShare: boolean, per: string,
 *   units: number, total: number, counts: number[], known: Map<number, boolean>}} Session
 */

const DAY_S = 86_400;
const MOST_COUNTS = 1000;

/**
 * Events of one organism, earliest first, in rounds of at most a day each.
 * @param {Event[]} events
 * @returns {Event[][]}
 */
export function splitSessions(events) {
  /** @type {Event[][]} */
  const rounds = [];
  for (const event of [...events].reverse()) {
    const last = rounds.at(-1);
    if (last && event.instant > last[last.length - 1].instant - DAY_S) last.unshift(event);
    else rounds.push([event]);
  }
  return rounds.reverse();
}

/**
 * Put the entries of one round together.
 * @param {Event[]} events
 */
export function readSession(events) {
  /** @type {Session} */
  const session = {
    events, looked: 0, affected: 0, hasShare: false, per: perOf(events[0]), units: 0, total: 0,
    counts: [], known: new Map(),
  };
  for (const event of events) {
    takeCounts(session, event);
    takePlants(session, event);
  }
  const ill = [...session.known.values()].filter((isIll) => isIll).length;
  session.hasShare = session.looked > 0 || session.known.size > 0;
  session.looked = Math.max(session.looked, session.known.size);
  session.affected = Math.max(session.affected, ill);
  return session;
}

/** The mean count per unit, null when no count was logged. @param {Session} session */
export const meanOf = (session) => (session.units > 0 ? session.total / session.units : null);

/** @param {Event} event */
const perOf = (event) => text(event.details.per) || "plant";

/**
 * Add what was counted, as long as it was counted by the same unit.
 * @param {Session} session @param {Event} event
 */
function takeCounts(session, event) {
  if (perOf(event) !== session.per) return;
  const counts = countsOf(event);
  const count = number(event.details.count);
  if (counts.length) {
    session.counts.push(...counts);
    session.units += counts.length;
    for (const one of counts) session.total += one;
    return;
  }
  const units = lookedOf(event);
  if (units !== null && count !== null && count >= 0) {
    session.units += units;
    session.total += count;
  }
}

/**
 * Add the plants looked at, one by one where the entry tells them apart.
 * @param {Session} session @param {Event} event
 */
function takePlants(session, event) {
  const looked = lookedOf(event);
  if (looked === null) return;
  const affected = affectedOf(event, looked);
  const plants = namedPlants(event);
  if (plants !== null && looked === plants.length) {
    const named = [...plants].sort((one, other) => one - other);
    const counts = countsOf(event);
    if (counts.length === named.length && perOf(event) === "plant") {
      named.forEach((plant, at) => session.known.set(plant, counts[at] > 0));
      return;
    }
    if (affected === 0 || affected === named.length) {
      for (const plant of named) session.known.set(plant, affected !== 0);
      return;
    }
  }
  if (affected !== null && affected <= looked) {
    session.looked += looked;
    session.affected += affected;
  }
}

/**
 * How many were looked at: as logged, or as many as are named or counted.
 * @param {Event} event
 */
function lookedOf(event) {
  const looked = number(event.details.plants_looked);
  if (looked !== null) return looked >= 1 ? looked : null;
  const counts = countsOf(event);
  if (counts.length && perOf(event) === "plant") return counts.length;
  return namedPlants(event)?.length || null;
}

/**
 * How many of them were affected, null when the entry does not say.
 * @param {Event} event @param {number} looked
 */
function affectedOf(event, looked) {
  const affected = number(event.details.plants_affected);
  if (affected !== null) return affected >= 0 ? affected : null;
  const counts = countsOf(event);
  if (counts.length && perOf(event) === "plant") return counts.filter((one) => one > 0).length;
  const count = number(event.details.count);
  const grade = text(event.details.grade);
  if (count === 0 || (count === null && grade === "none")) return 0;
  // Plants that were named with what was found on them are those that have it.
  const isNamed = namedPlants(event)?.length === looked;
  return isNamed && (looked === 1 || (count === null && grade !== null)) ? looked : null;
}

/** @param {Event} event @returns {number[]} */
function countsOf(event) {
  const given = event.details.counts;
  if (!Array.isArray(given) || given.length > MOST_COUNTS) return [];
  const good = given.map(number).flatMap((one) => (one !== null && one >= 0 ? [one] : []));
  return good.length === given.length ? good : [];
}
