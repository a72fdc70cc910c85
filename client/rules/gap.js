// @ts-check
/**
 * How long since the last of several kinds of event, such as water or enough rain.
 * Twin of server/shedbook/rules/gap.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import {
  compareText, compareTime, concerns, holds, limit, livePlants, namedPlants, stands,
} from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {{start: number, last: Event | null}} Wait */

export const HOUR_S = 3600;
export const DAY_S = 86_400;

/**
 * Due when the planting of this subject that has waited longest has waited too long.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function gap(context, rule) {
  const waits = standingPlantings(context)
    .map((planting) => waitOf(context, planting, rule.params.counts))
    .sort((one, other) =>
      one.start - other.start || compareText(one.last?.id ?? "", other.last?.id ?? ""));
  if (!waits.length) return [];
  const { start, last } = waits[0];
  const dueAfter = limit(context, rule, "due_after_hours") ?? 0;
  const closesAfter = Math.max(limit(context, rule, "closes_after_hours") ?? 0, dueAfter);
  const ordinal = last ? last.id : "start";
  const hours = (context.now - start) / HOUR_S;
  if (hours < dueAfter || context.declined.has(keyPrefix(context, rule) + ordinal)) return [];
  const state = hours <= closesAfter ? "due" : "overdue";
  /** @type {Record<string, number>} */
  const values = { gap_hours: hours, limit_hours: dueAfter };
  if (state === "overdue") values.late_hours = hours - dueAfter;
  const why = [
    last ? reason("gap.last", { last_instant: start }) : reason("gap.never", { since_instant: start }),
    reason("gap.limit", { gap_hours: hours, limit_hours: dueAfter }),
  ];
  const made = finding(context, rule, ordinal, state, values, why, last ? [last] : []);
  return [{ ...made, from: start + Math.floor(dueAfter * HOUR_S) }];
}

/**
 * Where a bed's water account has an answer, the days since the last water are only noted.
 * @param {Finding[]} found @param {Rule[]} rules
 */
export function giveWay(found, rules) {
  const shapes = new Map(rules.map((rule) => [rule.id, rule.shape]));
  const isTold = found.some(({ rule, state }) =>
    shapes.get(rule) === "balance" && ["due", "overdue", "noted"].includes(state));
  if (!isTold) return;
  for (const made of found) {
    if (shapes.get(made.rule) !== "gap" || made.settles?.kind !== "water") continue;
    const message = { key: "gap.noted", values: made.message.values };
    Object.assign(made, { state: "noted", settles: null, message });
    made.reasons.push(reason("gap.account"));
  }
}

/**
 * The events that meet any of the conditions, latest first; most callers need only a few.
 * @param {Context} context @param {import("./match.js").Condition[]} counts
 */
function* latestFirst(context, counts) {
  const lists = counts.map((condition) => context.byKind.get(condition.kind) ?? []);
  const left = lists.map((events) => events.length);
  for (;;) {
    let latest = -1;
    for (let one = 0; one < lists.length; one += 1) {
      if (left[one] === 0) continue;
      const event = lists[one][left[one] - 1];
      if (latest < 0 || compareTime(event, lists[latest][left[latest] - 1]) >= 0) latest = one;
    }
    if (latest < 0) return;
    left[latest] -= 1;
    const event = lists[latest][left[latest]];
    if (holds(counts[latest].where ?? [], event.details)) yield event;
  }
}

/**
 * The plantings that the subject is about today: itself, or what stands in the bed.
 * @param {Context} context
 */
export function standingPlantings(context) {
  const { planting, residents } = context.view;
  const about = planting === null ? residents : [planting];
  return about.filter((one) => stands(one, context.today));
}

/**
 * The instant from which the planting has stood in its place.
 * @param {Context} context @param {Planting} planting
 */
export function startOf(context, planting) {
  const day = /** @type {number} */ (planting.from_day);
  let start = Infinity;
  for (const kind of ["transplant", "sow"]) {
    for (const event of context.byKind.get(kind) ?? []) {
      if (event.day === day && event.planting === planting.id) {
        start = Math.min(start, event.instant);
      }
    }
  }
  return start === Infinity ? day * DAY_S : start;
}

/**
 * The last event of those plants that have waited longest.
 * @param {Context} context @param {Planting} planting
 * @param {import("./match.js").Condition[]} counts
 * @returns {Wait}
 */
function waitOf(context, planting, counts) {
  const waiting = new Set(livePlants(planting, context.today));
  for (const event of latestFirst(context, counts)) {
    if (!concerns(event, planting)) continue;
    const named = namedPlants(event);
    if (named === null) waiting.clear();
    else for (const plant of named) waiting.delete(plant);
    if (!waiting.size) return { start: event.instant, last: event };
  }
  return { start: startOf(context, planting), last: null };
}
