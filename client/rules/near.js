// @ts-check
/**
 * Work that is judged by what happened around it: rain after it, heat that day, bloom before it. A
 * row says whether what lies near tells against the work, or is wanted before it. Where the log has
 * nothing to judge by, that is unknown. Twin of server/shedbook/rules/near.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import { days, find, holds, limit, namedPlants, number } from "./match.js";
import { isOn } from "./reach.js";

/** @typedef {import("./match.js").Condition} Condition */
/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */

const HOUR_S = 3_600;

/** @param {Context} context */
const plantingOf = (context) => /** @type {Planting} */ (context.view.planting);

/**
 * One finding for each piece of work that something lies too near to, or too far from.
 * @param {Context} context @param {Rule} rule
 */
export function near(context, rule) {
  const found = [];
  for (const event of find(context, rule.params.of)) {
    if (context.today - event.day > days(context, rule, "told_days")) continue;
    if (event.lifted !== undefined || !isOn(event, plantingOf(context))) continue;
    if (context.declined.has(keyPrefix(context, rule) + event.id)) continue;
    const made = judged(context, rule, event);
    if (made !== null) found.push(made);
  }
  return found;
}

/** @param {Context} context @param {Rule} rule @param {Event} event */
function judged(context, rule, event) {
  const { after_field: field, wanted, else_unknown: elseUnknown } = rule.params;
  const hours = hoursAfter(context, rule, event);
  const around = eventsAround(context, rule, event, hours);
  const told = around.filter((one) => tells(rule, one));
  const why = hours !== null && field !== undefined
    ? [reason(`${rule.says}.label`, { label_hours: hours })]
    : [];
  if (wanted) {
    const isMet = told.length > 0 || !isOver(context, rule, event, hours ?? 0);
    return isMet ? null : made(context, rule, event, "flagged", why, []);
  }
  if (told.length && hours === null) {
    why.push(reason(`${rule.says}.no_label`));
    return made(context, rule, event, "unknown", why, told);
  }
  if (told.length) return made(context, rule, event, "flagged", why, told);
  if (elseUnknown && !around.some((one) => canTell(rule, one))) {
    return made(context, rule, event, "unknown", [reason(`${rule.says}.nothing`)], []);
  }
  return null;
}

/**
 * Has the time passed in which what is wanted could still be done?
 * @param {Context} context @param {Rule} rule @param {Event} event @param {number} hours
 */
const isOver = (context, rule, event, hours) =>
  (rule.params.same_day === undefined
    ? context.now >= event.instant + hours * HOUR_S
    : context.today > event.day);

/**
 * How long after the work still counts; null where the label's figure is not written down.
 * @param {Context} context @param {Rule} rule @param {Event} event
 */
function hoursAfter(context, rule, event) {
  const field = rule.params.after_field;
  if (field === undefined) return limit(context, rule, "after_hours") ?? 0;
  const hours = number(event.details[field]);
  return hours !== null && hours >= 0 ? hours : null;
}

/**
 * Everything of the kinds asked for that lies within the row's time of the work.
 * @param {Context} context @param {Rule} rule @param {Event} event @param {number | null} hours
 */
function eventsAround(context, rule, event, hours) {
  const after = hours ?? limit(context, rule, "unknown_hours") ?? 0;
  const first = event.instant - (limit(context, rule, "before_hours") ?? 0) * HOUR_S;
  const last = event.instant + after * HOUR_S;
  const isSameDay = rule.params.same_day !== undefined;
  const kinds = [...new Set(nearOf(rule).map((one) => one.kind))];
  return kinds.flatMap((kind) => context.byKind.get(kind) ?? []).filter((one) =>
    (isSameDay ? one.day === event.day : first <= one.instant && one.instant <= last)
    && one.id !== event.id
    && isOn(one, plantingOf(context)));
}

/** @param {Rule} rule @returns {Condition[]} */
const nearOf = (rule) => rule.params.near;

/** @param {Rule} rule @param {Event} one */
const tells = (rule, one) =>
  nearOf(rule).some((near) => near.kind === one.kind && holds(near.where ?? [], one.details));

/**
 * Does it carry a figure that the row asks for, whatever the figure says?
 * @param {Rule} rule @param {Event} one
 */
const canTell = (rule, one) =>
  fieldsOf(rule, one).some((field) => (one.details[field] ?? null) !== null);

/**
 * @param {Context} context @param {Rule} rule @param {Event} event
 * @param {Finding["state"]} state @param {Reason[]} why @param {Event[]} told
 */
function made(context, rule, event, state, why, told) {
  const reasons = [
    reason(`did.${event.kind}`, { happened_instant: event.instant }),
    ...told.map((one) =>
      reason(`${rule.says}.${one.kind}`, { happened_instant: one.instant, ...sizes(rule, one) })),
    ...why,
  ];
  const values = { happened_instant: event.instant };
  const found = finding(context, rule, event.id, state, values, reasons, [event, ...told]);
  const named = namedPlants(event);
  if (named !== null) found.subject.plants = [...named];
  return found;
}

/** @param {Rule} rule @param {Event} one */
const fieldsOf = (rule, one) =>
  nearOf(rule).filter((near) => near.kind === one.kind)
    .flatMap((near) => (near.where ?? []).map((test) => test.field));

/**
 * The numbers that the row looked at.
 * @param {Rule} rule @param {Event} one
 */
const sizes = (rule, one) =>
  Object.fromEntries(fieldsOf(rule, one)
    .map((field) => /** @type {const} */ ([field, number(one.details[field])]))
    .filter(([, size]) => size !== null));
