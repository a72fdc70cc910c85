// @ts-check
/**
 * Due in a window so many days after an anchor, once for each number, plant by plant.
 * Twin of server/shedbook/rules/once_after.py.
 */
import { dayFinding, keyPrefix, namePlants, reason } from "./finding.js";
import { covers, days, findFor, hasEnded, inTime, livePlants, plantGroups } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** One number of one anchor that some plants still wait for.
 * @typedef {{anchor: Event, ordinal: string, interval: number, plants: number[]}} Open */

/**
 * One finding for each number of days whose work is still open for some plants.
 * @param {Context} context @param {Rule} rule
 */
export function onceAfter(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  if (hasEnded(planting, context.today)) return [];
  /** @type {number[]} */
  const intervals = rule.params.due_after_days;
  const anchors = findFor(context, rule.params.anchor, planting);
  const work = [
    ...findFor(context, rule.params.settled_by, planting),
    ...findFor(context, { kind: "decline" }, planting),
  ];
  const live = livePlants(planting, context.today);
  /** @type {Map<string, Open>} */
  const stillOpen = new Map();
  /** @type {Map<string, Event>} */
  const done = new Map();
  for (const plants of plantGroups(live, [...anchors, ...work])) {
    const anchor = anchors.find((event) => covers(context, event, plants[0]));
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

/**
 * For each number the event that settles it, or undefined; no event settles two.
 * @param {Context} context @param {Rule} rule @param {Event} anchor @param {string[]} ordinals
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
  const reasons = [
    reason(`done.${anchor.kind}`, { done_day: anchor.day }),
    reason("once_after.interval", { interval_days: interval, due_day: due }),
  ];
  const proof = [anchor, ...inTime(done.values())];
  const made = dayFinding(context, rule, open.ordinal, due, reasons, proof);
  if (made !== null) namePlants(made, open.plants, live);
  return made;
}
