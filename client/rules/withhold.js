// @ts-check
/**
 * An entry that withholds other kinds of work until a span has passed. Counted from the end of the
 * work in instants: a day is 24 hours, whatever the clock on the wall did. What the log does not
 * say is unknown, and stays unknown; nothing here ever ends in "may be done".
 * Twin of server/shedbook/rules/withhold.py.
 */
import { parseMoment } from "../log/moment.js";
import { finding, keyPrefix, reason } from "./finding.js";
import {
  AHEAD_S, compareText, hasEnded, holds, inTime, namedPlants, namedSet, number, since, text,
} from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/**
 * One treatment: when it began and ended, and until when it withholds (null: not known).
 * @typedef {{event: Event, begin: number, end: number, length: number | null,
 *   until: number | null, whyUnknown: string}} Span
 * @typedef {Span & {until: number}} KnownSpan
 */

const DAY_S = 86_400;
const UNIT_S = new Map([["day", DAY_S], ["hour", 3_600]]);

/**
 * One finding for each span that runs, one where none is known, one for each offence.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function withhold(context, rule) {
  const spans = treatments(context, rule).map((event) => spanOf(context, rule, event));
  const kept = spans.filter((span) => span.event.lifted === undefined);
  const lifted = spans.filter((span) => span.event.lifted !== undefined);
  return [
    ...kept.filter((span) => runs(context, span)).map((span) => running(context, rule, span)),
    ...unknowns(context, rule, kept.filter((span) => isUnknown(context, rule, span))),
    ...offences(context, rule, kept),
    ...lifted.filter((span) => runs(context, span)).map((span) => wasLifted(context, rule, span)),
  ];
}

/**
 * Only what withholds work at this moment.
 * @param {Context} context @param {Rule} rule
 */
export function runningSpans(context, rule) {
  return treatments(context, rule)
    .map((event) => spanOf(context, rule, event))
    .filter((span) => span.event.lifted === undefined && runs(context, span))
    .map((span) => running(context, rule, span));
}

/**
 * The kinds of work that the rule withholds.
 * @param {Context} context @param {Rule} rule
 * @returns {string[]}
 */
function blockedKinds(context, rule) {
  const blocks = rule.params.blocks;
  return [...(blocks === "hand_work" ? context.rulebook.hand_work : blocks)];
}

/**
 * Those within reach, also those dated ahead: their true moment is not known.
 * @param {Context} context @param {Rule} rule
 */
function treatments(context, rule) {
  const { kind } = rule.params.after;
  const events = [...(context.byKind.get(kind) ?? []), ...(context.ahead.get(kind) ?? [])];
  return events.filter((event) => withholds(rule, event.details) && isHere(context, rule, event));
}

/**
 * A figure that was written down from a label counts whatever the rest says.
 * @param {Rule} rule @param {Event["details"]} details
 */
function withholds(rule, details) {
  const isTold = (details[rule.params.span.field] ?? null) !== null;
  return isTold || holds(rule.params.after.where ?? [], details);
}

/**
 * Is the event within the rule's reach? What names no bed is in a view for its plants.
 * @param {Context} context @param {Rule} rule @param {Event} event
 */
function isHere(context, rule, event) {
  const { bed, planting } = context.view;
  if (planting === null) return event.bed === undefined || event.bed === bed?.id;
  return rule.params.reach === "plants" ? isOn(event, planting) : isAround(context, event, planting);
}

/**
 * Did it reach these plants: by name, with their bed, or with a bed they stood in before?
 * @param {Event} event @param {Planting} planting
 */
function isOn(event, planting) {
  if (event.planting !== undefined) return event.planting === planting.id;
  if (event.bed !== undefined && event.bed !== planting.bed) {
    return planting.beds?.includes(event.bed) ?? false;
  }
  // What went into the bed later was not met; of what has no such day that can't be said.
  return planting.from_day === undefined || planting.from_day <= event.day;
}

/**
 * Must the planting itself tell of it, since no finding of its bed does?
 * @param {Context} context @param {Event} event @param {Planting} planting
 */
function isAround(context, event, planting) {
  const [bed, bedId] = [context.view.bed, planting.bed];
  const isUnseen = bed === null || bed.hidden;
  if (event.planting !== undefined && event.planting === planting.id) {
    return isUnseen || event.bed !== bedId;
  }
  if (event.bed === undefined && event.planting === undefined) return true;
  return isUnseen && bedId !== undefined && (event.bed ?? bedId) === bedId;
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
 * @param {Context} context @param {Rule} rule @param {Event} event
 * @returns {Span}
 */
function spanOf(context, rule, event) {
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

/** @param {Context} context @param {Span} span */
const runs = (context, span) => span.until !== null && context.now < span.until;

/** @param {Context} context @param {Rule} rule @param {Span} span */
function isUnknown(context, rule, span) {
  const planting = context.view.planting;
  if (planting !== null && hasEnded(planting, context.today)) return false;
  // The row's own number: no threshold of a garden may silence what is not known.
  const lasts = number(rule.params.unknown_lasts_days);
  if (lasts !== null && context.now - span.end > lasts * DAY_S) return false;
  return span.whyUnknown !== "" && !runs(context, span);
}

/**
 * Name the plants and the kinds of work that the finding holds back.
 * @param {Context} context @param {Rule} rule @param {Finding} made @param {Event} event
 */
function about(context, rule, made, event) {
  const named = namedPlants(event);
  if (rule.params.reach === "plants" && named !== null) made.subject.plants = [...named];
  if (made.state === "blocked" || made.state === "unknown") {
    made.blocks = blockedKinds(context, rule);
    made.settles = null;
  }
  return made;
}

/** @param {Rule} rule @param {Span} span */
function spanReason(rule, span) {
  const unit = rule.params.span.unit;
  const values = { end_instant: span.end, until_instant: span.until };
  return reason(`withhold.span_${unit}s`, { [`span_${unit}s`]: span.length, ...values });
}

/** @param {Context} context @param {Rule} rule @param {Span} span */
function running(context, rule, span) {
  const { event, begin: from, until } = span;
  const values = { until_instant: until };
  const why = [spanReason(rule, span)];
  const made = finding(context, rule, event.id, "blocked", values, why, [event]);
  return about(context, rule, { ...made, from, until }, event);
}

/**
 * The latest treatment that is not decided on speaks for earlier ones of the same plants.
 * @param {Context} context @param {Rule} rule @param {Span[]} spans
 */
function unknowns(context, rule, spans) {
  const found = [];
  const seen = new Set();
  const latestFirst = spans.sort((one, other) =>
    other.end - one.end || compareText(other.event.id, one.event.id));
  for (const { event, begin, end, whyUnknown } of latestFirst) {
    const named = rule.params.reach === "plants" ? namedPlants(event) : null;
    if (named?.every((plant) => seen.has(plant))) continue;
    if (context.declined.has(keyPrefix(context, rule) + event.id)) continue;
    const values = { end_instant: end };
    const why = [reason(`withhold.${whyUnknown}`, values)];
    const made = finding(context, rule, event.id, "unknown", values, why, [event]);
    found.push(about(context, rule, { ...made, from: begin }, event));
    if (named === null) break;
    for (const plant of named) seen.add(plant);
  }
  return found;
}

/**
 * Withheld work that was logged all the same, each with the span that ran longest.
 * @param {Context} context @param {Rule} rule @param {Span[]} spans
 */
function offences(context, rule, spans) {
  const found = [];
  const broken = brokenBy(context, rule, spans);
  for (const event of inTime([...broken.values()].map((one) => one.event))) {
    const ordinal = `flag.${event.id}`;
    if (context.declined.has(keyPrefix(context, rule) + ordinal)) continue;
    const over = broken.get(event.id)?.over ?? [];
    const last = [...over].sort((one, other) =>
      other.until - one.until || compareText(other.event.id, one.event.id))[0];
    const values = { happened_instant: event.instant, until_instant: last.until };
    const why = [
      reason(`did.${event.kind}`, { happened_instant: event.instant }),
      spanReason(rule, last),
    ];
    const proof = [...over.map((span) => span.event), event];
    const made = finding(context, rule, ordinal, "flagged", values, why, proof);
    found.push(about(context, rule, { ...made, from: last.begin, until: last.until }, event));
  }
  return found;
}

/**
 * Work inside a span, by its id, with the spans it fell into.
 * @param {Context} context @param {Rule} rule @param {Span[]} spans
 */
function brokenBy(context, rule, spans) {
  /** @type {Map<string, {event: Event, over: KnownSpan[]}>} */
  const found = new Map();
  const kinds = blockedKinds(context, rule).map((kind) => context.byKind.get(kind) ?? []);
  for (const span of spans) {
    const { begin, until } = span;
    if (until === null) continue;
    for (const events of kinds) {
      for (const event of events.slice(since(events, begin), since(events, until))) {
        if (!isAgainst(context, rule, span.event, event) || !isHere(context, rule, event)) continue;
        const known = found.get(event.id);
        if (known) known.over.push({ ...span, until });
        else found.set(event.id, { event, over: [{ ...span, until }] });
      }
    }
  }
  return found;
}

/**
 * Did the work touch what was treated?
 * @param {Context} context @param {Rule} rule @param {Event} treatment @param {Event} work
 */
function isAgainst(context, rule, treatment, work) {
  if (work.id === treatment.id) return false;
  const [treated, worked] = [namedSet(context, treatment), namedPlants(work)];
  if (rule.params.reach === "bed" || treated === null || worked === null) return true;
  return worked.some((plant) => treated.has(plant));
}

/** @param {Context} context @param {Rule} rule @param {Span} span */
function wasLifted(context, rule, span) {
  const { event, begin: from, until } = span;
  const lifted = /** @type {{person?: string, instant: number}} */ (event.lifted);
  const lifted_instant = lifted.instant;
  const why = [
    reason("withhold.lifted", { person: lifted.person ?? null, lifted_instant }),
    spanReason(rule, span),
  ];
  const values = { until_instant: until, lifted_instant };
  const made = finding(context, rule, event.id, "noted", values, why, [event]);
  made.message.key = "withhold.lifted";
  return about(context, rule, { ...made, from, until, settles: null }, event);
}
