// @ts-check
/**
 * A stepwise schedule: each day a longer time outside, until raised plants can be planted out.
 * Twin of server/shedbook/rules/ladder.py.
 */
import { anchorDay, hasHappened } from "./anchor.js";
import { dayFinding, finding, reason } from "./finding.js";
import { days, findFor, hasEnded, limit, number } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/**
 * How far the plants have come: steps done, days outside, and whether cold set them back.
 * @typedef {{steps: number, daysOut: number, last: Event | null, wasCold: boolean}} Climb
 */

/**
 * The next step, or that the last one is done; a flag when planted out too early.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function ladder(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const { params } = rule;
  if (hasEnded(planting, context.today)) return [];
  if (!hasHappened(context, planting, params.needs)) return [];
  const end = findFor(context, params.ends_with, planting)[0] ?? null;
  const climb = climbOf(context, rule, planting, end?.day ?? context.today);
  const made = end !== null
    ? cutShort(context, rule, climb, end)
    : climb.steps < params.hours.length
      ? nextStep(context, rule, planting, climb)
      : atTheTop(context, rule, climb);
  return made === null || context.declined.has(made.key) ? [] : [made];
}

/**
 * Days with enough hours climb a step; a day that was too cold goes back one.
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {number} lastDay
 */
function climbOf(context, rule, planting, lastDay) {
  /** @type {number[]} */
  const hours = rule.params.hours;
  const tooCold = limit(context, rule, "too_cold_c") ?? 0 - Infinity;
  /** @type {Climb} */
  const climb = { steps: 0, daysOut: 0, last: null, wasCold: false };
  /** @type {Map<number, Event[]>} */
  const byDay = new Map();
  for (const event of findFor(context, rule.params.settled_by, planting)) {
    if (event.day > lastDay) continue;
    const listed = byDay.get(event.day);
    if (listed) listed.push(event);
    else byDay.set(event.day, [event]);
  }
  for (const events of byDay.values()) {
    climb.wasCold = events.some((event) => (number(event.details.low_c) ?? Infinity) < tooCold);
    climb.last = events[events.length - 1];
    climb.daysOut += 1;
    if (climb.wasCold) climb.steps = Math.max(0, climb.steps - 1);
    else if (climb.steps < hours.length && wasEnough(events, hours[climb.steps])) climb.steps += 1;
  }
  return climb;
}

/**
 * A day outside without its hours written down counts as the step that was due.
 * @param {Event[]} events @param {number} wanted
 */
function wasEnough(events, wanted) {
  let total = 0;
  for (const event of events) {
    const hours = number(event.details.hours_outside);
    if (hours === null) return true;
    total += hours;
  }
  return total >= wanted;
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {Climb} climb
 * @returns {Finding | null}
 */
function nextStep(context, rule, planting, climb) {
  const { params } = rule;
  const why = [];
  let due;
  if (climb.last !== null) {
    due = climb.last.day + 1;
    why.push(reason(`last.${climb.last.kind}`, { done_day: climb.last.day }));
    if (climb.wasCold) why.push(reason("ladder.cold", { limit: limit(context, rule, "too_cold_c") }));
  } else {
    const planned = anchorDay(context, planting, params.day_of);
    if (planned === null) return null;
    due = planned.day - days(context, rule, "starts_before_days");
    why.push(reason(`anchor.${planned.field}`, { anchor_day: planned.day }));
  }
  const step = climb.steps + 1;
  const hours = params.hours[climb.steps];
  why.push(reason("ladder.step", { step, steps: params.hours.length, step_hours: hours }));
  const [low, high] = [limit(context, rule, "air_low_c"), limit(context, rule, "air_high_c")];
  why.push(reason("ladder.air", { low_c: low, high_c: high }));
  why.push(reason("ladder.again"));
  const made = dayFinding(context, rule, `${step}`, due, why, [climb.last ?? planting]);
  if (made === null) return null;
  Object.assign(made.message.values, { step, step_hours: hours });
  const settles = { kind: params.settled_by.kind, details: { hours_outside: hours } };
  return { ...made, settles };
}

/**
 * Every step is done, and planting out may follow.
 * @param {Context} context @param {Rule} rule @param {Climb} climb
 * @returns {Finding}
 */
function atTheTop(context, rule, climb) {
  const values = { days: climb.daysOut };
  const why = [reason("ladder.days_out", values), ...span(context, rule)];
  const proof = climb.last === null ? [] : [climb.last];
  return { ...finding(context, rule, "top", "noted", values, why, proof), settles: null };
}

/**
 * Planted out lately after too few days outside.
 * @param {Context} context @param {Rule} rule @param {Climb} climb @param {Event} end
 * @returns {Finding | null}
 */
function cutShort(context, rule, climb, end) {
  const wanted = days(context, rule, "least_days");
  const recent = days(context, rule, "recent_days");
  if (climb.daysOut >= wanted || end.day < context.today - recent) return null;
  const why = [
    reason(`done.${end.kind}`, { done_day: end.day }),
    reason("ladder.days_out", { days: climb.daysOut }),
    ...span(context, rule),
  ];
  const values = { days: climb.daysOut, wanted };
  const proof = climb.last === null ? [end] : [climb.last, end];
  const made = finding(context, rule, "short", "flagged", values, why, proof);
  return { ...made, settles: { kind: "decline", details: {} } };
}

/** @param {Context} context @param {Rule} rule */
const span = (context, rule) => [
  reason("ladder.span", {
    least: days(context, rule, "least_days"), most_days: days(context, rule, "most_days"),
  }),
];
