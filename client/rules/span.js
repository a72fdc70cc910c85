// @ts-check
/**
 * How long an entry withholds other work: by its label, or by a fixed number of the row. What a
 * label says counts from the end of the work in instants: a day is 24 hours, whatever the clock on
 * the wall did. Fixed days are days of the calendar, counted from the day of the work.
 * Twin of server/shedbook/rules/span.py.
 */
import { parseMoment } from "../log/moment.js";
import { reason } from "./finding.js";
import { AHEAD_S, cropFact, holds, limit, number, since, text } from "./match.js";
import { isHere } from "./reach.js";

/** @typedef {import("./match.js").Condition} Condition */
/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/**
 * One entry: when its work began and ended, and until when it withholds (null: not known).
 * @typedef {{event: Event, begin: number, end: number, length: number | null,
 *   until: number | null, whyUnknown: string}} Span
 */

export const DAY_S = 86_400;
const HOUR_S = 3_600;
const UNIT_S = new Map([["day", DAY_S], ["hour", HOUR_S]]);

/**
 * Those within reach, also those dated ahead: their true moment is not known. What was written of
 * moments before `start` is left out.
 * @param {Context} context @param {Rule} rule @param {number} start
 * @returns {Span[]}
 */
export function spansOf(context, rule, start = -Infinity) {
  const after = conditionsOf(rule);
  const found = [];
  for (const kind of new Set(after.map((one) => one.kind))) {
    const events = context.byKind.get(kind) ?? [];
    for (const event of [...events.slice(since(events, start)), ...(context.ahead.get(kind) ?? [])]) {
      if (withholds(rule, after, event) && isHere(context, rule, event)) {
        found.push(spanOf(context, rule, event));
      }
    }
  }
  return found;
}

/**
 * Nothing is told of a span of fixed length that began before this: it runs no more, and work that
 * fell into it is no longer flagged. Two days more stand for the offsets of days.
 * @param {Context} context @param {Rule} rule
 */
export function startTold(context, rule) {
  const told = number(rule.params.flagged_days);
  if (told === null || rule.params.span !== undefined) return -Infinity;
  const lasts = rule.params.span_hours === undefined
    ? Math.max(lengthOf(context, rule, "span_days"), chosenDays(context, rule)) * DAY_S
    : lengthOf(context, rule, "span_hours") * HOUR_S;
  return (context.today - told - 2) * DAY_S - lasts;
}

/**
 * What the rule withholds after: one condition or a list of them.
 * @param {Rule} rule @returns {Condition[]}
 */
export const conditionsOf = ({ params: { after } }) => (Array.isArray(after) ? after : [after]);

/**
 * A figure that was written down from a label counts whatever the rest says.
 * @param {Rule} rule @param {Condition[]} after @param {Event} event
 */
function withholds(rule, after, { kind, details }) {
  const span = rule.params.span;
  if (span !== undefined && (details[span.field] ?? null) !== null) return true;
  return after.some((one) => one.kind === kind && holds(one.where ?? [], details));
}

/**
 * @param {Context} context @param {Rule} rule @param {Event} event
 * @returns {Span}
 */
function spanOf(context, rule, event) {
  if (rule.params.span !== undefined) return labelled(context, rule, event);
  const span = fixed(context, rule, event);
  if (span.end > context.now + AHEAD_S) {
    return { ...span, length: null, until: null, whyUnknown: "ahead" };
  }
  return rule.params.ended_by === undefined ? span : cutShort(context, rule, span);
}

/**
 * Epoch seconds of a moment in an event's details.
 * @param {unknown} value
 */
function instantOf(value) {
  const written = text(value);
  if (written === null) return null;
  try {
    return parseMoment(written).instant;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/**
 * What one entry withholds by its label; undefined where the rule asks nothing of it.
 * @param {Pick<Context, "now">} present @param {Rule} rule @param {Event} event
 */
export function labelSpan(present, rule, event) {
  const asks = rule.params.span !== undefined && withholds(rule, conditionsOf(rule), event);
  return asks ? labelled(present, rule, event) : undefined;
}

/**
 * @param {Pick<Context, "now">} context @param {Rule} rule @param {Event} event
 * @returns {Span}
 */
function labelled(context, rule, event) {
  const { details, instant } = event;
  const started = instantOf(details.started_at);
  // It is written down when it ends; a start alone must not let the wait begin before that.
  const end = instantOf(details.ended_at) ?? Math.max(instant, started ?? instant);
  const begin = started ?? Math.min(instant, end);
  const { span, no_label } = rule.params;
  const length = number(details[span.field]);
  const labelless = no_label !== undefined && holds(no_label, details);
  const unknown = { event, begin, end, length: null, until: null };
  if (end < begin || end < instant - AHEAD_S) return { ...unknown, whyUnknown: "times" };
  if (end > context.now + AHEAD_S) return { ...unknown, whyUnknown: "ahead" };
  const whyUnknown = labelless ? "no_label" : "";
  if (length === null || length < 0) return { ...unknown, whyUnknown: whyUnknown || "no_span" };
  const until = end + Math.ceil(length * /** @type {number} */ (UNIT_S.get(span.unit)));
  return { event, begin, end, length, until, whyUnknown };
}

/**
 * @param {Context} context @param {Rule} rule @param {Event} event
 * @returns {Span}
 */
function fixed(context, rule, event) {
  const own = event.instant;
  const known = { event, begin: own, end: own, whyUnknown: "" };
  if (rule.params.span_hours !== undefined) {
    const length = lengthOf(context, rule, "span_hours");
    return { ...known, length, until: own + Math.ceil(length * HOUR_S) };
  }
  const asked = lengthOf(context, rule, "span_days");
  const length = Math.ceil(Math.max(asked, chosenDays(context, rule)));
  // Offsets are whole minutes, so the seconds of the instant are those of the local clock.
  const seconds = own - Math.floor(own / 60) * 60;
  const midnight = own - event.hour * HOUR_S - event.minute * 60 - seconds;
  return { ...known, length, until: midnight + length * DAY_S };
}

/**
 * A garden may set a caution as it likes, but what withholds work only longer.
 * @param {Context} context @param {Rule} rule @param {string} param
 */
function lengthOf(context, rule, param) {
  const own = limit(context, rule, param) ?? 0;
  return rule.params.softly ? own : Math.max(own, number(rule.params[param]) ?? 0);
}

/**
 * The longer span, unless the crop is known not to need it.
 * @param {Context} context @param {Rule} rule
 * @returns {number}
 */
function chosenDays(context, rule) {
  const choose = rule.params.choose;
  const isSpared = choose === undefined || factOf(context, rule) === false;
  return isSpared ? 0 : choose.span_days;
}

/**
 * What is known of the crop's fact that the length hangs on: true, false, or null.
 * @param {Context} context @param {Rule} rule
 */
function factOf(context, rule) {
  const fact = cropFact(context, context.view.planting?.crop, rule.params.choose.fact);
  return typeof fact === "boolean" ? fact : null;
}

/**
 * The span ends early where something that ends it was written down.
 * @param {Context} context @param {Rule} rule @param {Span} span
 * @returns {Span}
 */
function cutShort(context, rule, span) {
  let until = span.until ?? 0;
  for (const ender of rule.params.ended_by) {
    const events = context.byKind.get(ender.kind) ?? [];
    const after = events.slice(since(events, span.end), since(events, until));
    const first = after.find((event) =>
      holds(ender.where ?? [], event.details) && isHere(context, rule, event));
    if (first) until = first.instant;
  }
  return { ...span, until };
}

/**
 * How the end was counted, and why it is this long.
 * @param {Context} context @param {Rule} rule @param {Span} span
 */
export function spanReasons(context, rule, span) {
  const { span: labelSpan, span_hours: hours, choose } = rule.params;
  const unit = labelSpan?.unit ?? (hours === undefined ? "day" : "hour");
  const key = labelSpan === undefined ? `withhold.fixed_${unit}s` : `withhold.span_${unit}s`;
  const values = { end_instant: span.end, until_instant: span.until };
  const told = [reason(key, { [`span_${unit}s`]: span.length, ...values })];
  if (choose !== undefined) {
    const fact = factOf(context, rule);
    const known = fact === null ? "unknown" : fact ? "yes" : "no";
    told.push(reason(`${rule.says ?? "withhold"}.${choose.fact}_${known}`));
  }
  return told;
}
