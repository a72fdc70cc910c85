// @ts-check
/**
 * Due in a window so many days after an anchor, once for each number, plant by plant.
 *
 * The anchor is an event, or a day of the planting or of the garden; then the work may come before
 * it. With `each`, every event of the anchor's kind asks for its own work, once it is done or
 * lapses. Twin of server/shedbook/rules/once_after.py.
 */
import { LAST_FROST, anchorDay, hasHappened } from "./anchor.js";
import { dayFinding, keyPrefix, namePlants, reason } from "./finding.js";
import {
  covers, days, findFor, hasEnded, inTime, limit, livePlants, plantGroups,
} from "./match.js";

/** @typedef {import("./match.js").Condition} Condition */
/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** An event, or a day that no event stands for. @typedef {{id: string, kind: string, day: number}} Day */
/** One number of one anchor that some plants still wait for.
 * @typedef {{anchor: Day, ordinal: string, interval: number, plants: number[]}} Open */

/**
 * One finding for each number of days whose work is still open for some plants.
 * @param {Context} context @param {Rule} rule
 */
export function onceAfter(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const isEach = rule.params.anchor.each !== undefined;
  if (!isEach && hasEnded(planting, context.today)) return [];
  if (hasHappened(context, planting, rule.params.only_before ?? [])) return [];
  const anchors = anchorsOf(context, rule, planting);
  if (!anchors.length) return [];
  const work = [
    ...settling(context, rule, planting),
    ...findFor(context, { kind: "decline" }, planting),
  ];
  if (isEach) return forEach(context, rule, /** @type {Event[]} */ (anchors), work);
  /** @type {number[]} */
  const intervals = rule.params.due_after_days;
  const live = livePlants(planting, context.today);
  /** @type {Map<string, Open>} */
  const stillOpen = new Map();
  /** @type {Map<string, Event>} */
  const done = new Map();
  for (const plants of plantGroups(live, /** @type {Event[]} */ ([...anchors, ...work]))) {
    const anchor = anchors.find((day) =>
      covers(context, /** @type {Event} */ (day), plants[0]));
    if (anchor === undefined) continue;
    // The first anchor's numbers stand alone, so that correcting its date keeps their keys.
    const lead = anchor === anchors[0] ? "" : `${anchor.id}.`;
    const ordinals = intervals.map((_, index) => `${lead}${index + 1}`);
    const mine = work.filter((event) => covers(context, event, plants[0]));
    settlers(context, rule, anchor, ordinals, mine).forEach((settler, index) => {
      const ordinal = ordinals[index];
      const open = stillOpen.get(ordinal);
      if (settler !== undefined) done.set(settler.id, settler);
      else if (open) open.plants.push(...plants);
      else stillOpen.set(ordinal, { anchor, ordinal, interval: intervals[index], plants: [...plants] });
    });
  }
  return [...stillOpen.values()].flatMap((open) => findingOf(context, rule, open, live, done) ?? []);
}

/** @param {Context} context @param {Rule} rule @param {Planting} planting */
function settling(context, rule, planting) {
  /** @type {Condition[]} */
  const conditions = [rule.params.settled_by].flat();
  return conditions.flatMap((one) => findFor(context, one, planting));
}

/**
 * The events to count from; a day that no event stands for is told of like one.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 * @returns {Day[]}
 */
function anchorsOf(context, rule, planting) {
  const { anchor } = rule.params;
  if (anchor.day_of === undefined) return findFor(context, anchor, planting);
  const found = anchorDay(context, planting, anchor.day_of);
  return found === null ? [] : [{ id: planting.id, kind: found.field, day: found.day }];
}

/**
 * What each anchor asks for, until something that settles it follows.
 * @param {Context} context @param {Rule} rule @param {Event[]} anchors @param {Event[]} work
 */
function forEach(context, rule, anchors, work) {
  const prefix = keyPrefix(context, rule);
  const before = days(context, rule, "opens_before_days");
  /** @type {number[]} */
  const intervals = rule.params.due_after_days;
  return anchors.flatMap((anchor) => intervals.flatMap((interval, index) => {
    if (hasLapsed(context, rule, anchor.day + interval)) return [];
    const ordinal = `${anchor.id}.${index + 1}`;
    const opens = anchor.day + interval - before;
    const isDone = work.some((event) => event.answers === prefix + ordinal
      || (event.kind !== "decline" && event.day >= opens && event.instant >= anchor.instant));
    if (isDone) return [];
    return findingOf(context, rule, { anchor, ordinal, interval, plants: [] }, [], new Map()) ?? [];
  }));
}

/**
 * For each number the event that settles it, or undefined; no event settles two.
 * @param {Context} context @param {Rule} rule @param {Day} anchor @param {string[]} ordinals
 * @param {Event[]} work
 */
function settlers(context, rule, anchor, ordinals, work) {
  const keys = ordinals.map((ordinal) => keyPrefix(context, rule) + ordinal);
  let free = work.filter(
    (event) => event.kind !== "decline" && !keys.includes(event.answers ?? ""),
  );
  const before = days(context, rule, "opens_before_days");
  return keys.map((key, index) => {
    const opens = anchor.day + rule.params.due_after_days[index] - before;
    const answer = work.find((event) => event.answers === key);
    if (answer !== undefined) return answer;
    const settler = free.find((event) => event.day >= opens);
    free = free.filter((event) => event !== settler);
    return settler;
  });
}

/**
 * @param {Context} context @param {Rule} rule @param {Open} open @param {number[]} live
 * @param {Map<string, Event>} done
 * @returns {Finding | null}
 */
function findingOf(context, rule, open, live, done) {
  const { anchor, interval } = open;
  const due = anchor.day + interval;
  if (hasLapsed(context, rule, due)) return null;
  const reasons = [
    told(rule, anchor),
    interval < 0
      ? reason("once_after.before", { before_days: 0 - interval, due_day: due })
      : reason("once_after.interval", { interval_days: interval, due_day: due }),
  ];
  // A frost day is a setting of the garden, which no entry of this planting proves.
  const proof = [anchor, ...inTime(done.values())].filter((one) => one.kind !== LAST_FROST);
  const made = dayFinding(context, rule, open.ordinal, due, reasons, proof);
  if (made !== null) namePlants(made, open.plants, live);
  return made;
}

/** @param {Context} context @param {Rule} rule @param {number} due */
function hasLapsed(context, rule, due) {
  const lapses = limit(context, rule, "lapses_after_days");
  const closes = due + days(context, rule, "closes_after_days");
  return lapses !== null && context.today > closes + lapses;
}

/** @param {Rule} rule @param {Day} anchor */
const told = (rule, anchor) =>
  rule.params.anchor.day_of === undefined
    ? reason(`done.${anchor.kind}`, { done_day: anchor.day })
    : reason(`anchor.${anchor.kind}`, { anchor_day: anchor.day });
