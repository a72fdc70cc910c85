// @ts-check
/**
 * Due again so many days after it was last done, from an anchor on.
 * Twin of server/shedbook/rules/repeat_every.py.
 */
import { dayFinding, keyPrefix, namePlants, reason } from "./finding.js";
import {
  compareTime, covers, cropFact, findFor, hasEnded, inTime, limit, livePlants, number, onceEach,
  plantGroups,
} from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

/**
 * The next time that the work is due; with `each`, one for every running course.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function repeatEvery(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const interval = intervalOf(context, rule, planting);
  const anchors = findFor(context, rule.params.anchor, planting);
  if (interval === null || !anchors.length || hasEnded(planting, context.today)) return [];
  const prefix = keyPrefix(context, rule);
  const declines = findFor(context, { kind: "decline" }, planting);
  const work = [
    ...findFor(context, rule.params.settled_by, planting),
    ...declines.filter((event) => event.answers?.startsWith(prefix)),
  ];
  if (rule.params.anchor.each) return courses(context, rule, planting, interval, anchors, work);
  const first = anchors[0];
  const done = inTime(work.filter((event) => compareTime(event, first) > 0));
  const made = next(context, rule, "", interval, [first, ...done]);
  return made === null ? [] : [made];
}

/**
 * Days from one time to the next: the row's, or what the crop's row says.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 */
function intervalOf(context, rule, planting) {
  const field = rule.params.every_days_of_crop;
  let chosen = limit(context, rule, "every_days");
  if (chosen === null && field) chosen = number(cropFact(context, planting.crop, field));
  return chosen === null || chosen < 1 ? null : Math.floor(chosen);
}

/**
 * Plants whose running course began with the same entry and is as far share a finding.
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {number} interval
 * @param {Event[]} anchors @param {Event[]} work
 */
function courses(context, rule, planting, interval, anchors, work) {
  const live = livePlants(planting, context.today);
  const events = onceEach([...anchors, ...work]);
  const starts = new Set(anchors.map((event) => event.id));
  const settles = new Set(work.map((event) => event.id));
  /** @type {Map<string, {made: Finding, plants: number[]}>} */
  const found = new Map();
  for (const plants of plantGroups(live, events)) {
    const mine = events.filter((event) => covers(context, event, plants[0]));
    const [first, ...rest] = lastCourse(context, rule, mine, starts);
    if (first === undefined) continue;
    const done = rest.filter((event) => settles.has(event.id));
    const made = next(context, rule, `${first.id}.`, interval, [first, ...done]);
    if (made === null) continue;
    const kept = found.get(made.key);
    if (kept === undefined) found.set(made.key, { made, plants: [...plants] });
    else {
      kept.plants.push(...plants);
      if (made.due < /** @type {number} */ (kept.made.due)) kept.made = made;
    }
  }
  for (const { made, plants } of found.values()) namePlants(made, plants, live);
  return [...found.values()].map(({ made }) => made);
}

/**
 * The plants' last course: the event that began it and what followed while it lasted.
 * @param {Context} context @param {Rule} rule @param {Event[]} events @param {Set<string>} starts
 */
function lastCourse(context, rule, events, starts) {
  /** @type {Event[]} */
  let course = [];
  for (const event of events) {
    if (course.length && event.day <= lastDay(context, rule, course[0])) course.push(event);
    else if (starts.has(event.id)) course = [event];
  }
  return course;
}

/** @param {Context} context @param {Rule} rule @param {Event} first */
function lastDay(context, rule, first) {
  const lasts = limit(context, rule, "lasts_days");
  return first.day + (lasts === null ? Infinity : Math.floor(lasts));
}

/**
 * What follows the first event and the times it was done since.
 * @param {Context} context @param {Rule} rule @param {string} lead @param {number} interval
 * @param {Event[]} course
 */
function next(context, rule, lead, interval, course) {
  const [first, last] = [course[0], course[course.length - 1]];
  const ends = lastDay(context, rule, first);
  const due = last.day + interval;
  if (due > ends || context.today > ends) return null;
  const reasons = [reason(`done.${first.kind}`, { done_day: first.day })];
  if (last !== first) reasons.push(reason(`last.${last.kind}`, { done_day: last.day }));
  reasons.push(reason("repeat_every.interval", { interval_days: interval, due_day: due }));
  if (ends !== Infinity) reasons.push(reason("repeat_every.lasts", { last_day: ends }));
  const proof = last === first ? [first] : [first, last];
  return dayFinding(context, rule, `${lead}${course.length}`, due, reasons, proof);
}
