// @ts-check
/**
 * An entry that withholds other kinds of work until a span has passed, or only warns of them. What
 * the log does not say is unknown, and stays unknown; nothing here ever ends in "may be done". A
 * row with `softly` blocks nothing: it notes until when, and flags what was done all the same, but not of
 * plants that are gone.
 * Twin of server/shedbook/rules/withhold.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import {
  compareText, hasEnded, holds, inTime, namedPlants, namedSet, number, since,
} from "./match.js";
import { isWorkHere } from "./reach.js";
import { DAY_S, spanReasons, spansOf, startTold } from "./span.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./span.js").Span} Span */
/** @typedef {Span & {until: number}} KnownSpan */

/**
 * One finding for each span that runs, one where none is known, one for each offence.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function withhold(context, rule) {
  const { planting } = context.view;
  const isGone = planting !== null && hasEnded(planting, context.today);
  if (rule.params.softly && isGone) return [];
  const spans = spansOf(context, rule, startTold(context, rule));
  const kept = spans.filter((span) => span.event.lifted === undefined);
  if (rule.params.softly) {
    return [...warning(context, rule, kept), ...offences(context, rule, kept)];
  }
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
  if (rule.params.softly) return [];
  return spansOf(context, rule)
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
 * Name the plants and the kinds of work that the finding holds back or warns of.
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

/** @param {Context} context @param {Rule} rule @param {Span} span */
function running(context, rule, span) {
  const { event, begin: from, until } = span;
  const values = { until_instant: until };
  const why = spanReasons(context, rule, span);
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
 * One note until the latest end, with the kinds of work that it warns of.
 * @param {Context} context @param {Rule} rule @param {Span[]} spans
 */
function warning(context, rule, spans) {
  const [last] = spans.filter((span) => runs(context, span)).sort(compareEnd).reverse();
  if (last === undefined) return [];
  const { event, begin: from, until } = last;
  if (context.declined.has(keyPrefix(context, rule) + event.id)) return [];
  const why = [
    reason(`did.${event.kind}`, { happened_instant: event.instant }),
    ...spanReasons(context, rule, last),
  ];
  const made = finding(context, rule, event.id, "noted", { until_instant: until }, why, [event]);
  const warns = blockedKinds(context, rule);
  return [about(context, rule, { ...made, from, until, settles: null, warns }, event)];
}

/** @param {Span} one @param {Span} other */
const compareEnd = (one, other) =>
  (one.until ?? 0) - (other.until ?? 0) || compareText(one.event.id, other.event.id);

/**
 * Withheld work that was logged all the same, each with the span that ran longest.
 * @param {Context} context @param {Rule} rule @param {Span[]} spans
 */
function offences(context, rule, spans) {
  const found = [];
  const broken = brokenBy(context, rule, spans);
  const told = number(rule.params.flagged_days);
  for (const event of inTime([...broken.values()].map((one) => one.event))) {
    const ordinal = `flag.${event.id}`;
    if (told !== null && context.today - event.day > told) continue;
    if (context.declined.has(keyPrefix(context, rule) + ordinal)) continue;
    const over = broken.get(event.id)?.over ?? [];
    const last = /** @type {KnownSpan} */ ([...over].sort(compareEnd).at(-1));
    const values = { happened_instant: event.instant, until_instant: last.until };
    const why = [
      reason(`did.${event.kind}`, { happened_instant: event.instant }),
      ...spanReasons(context, rule, last),
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
        if (!holds(rule.params.blocks_where ?? [], event.details)) continue;
        if (!isAgainst(context, rule, span.event, event) || !isWorkHere(context, rule, event)) continue;
        const known = found.get(event.id);
        if (known) known.over.push({ ...span, until });
        else found.set(event.id, { event, over: [{ ...span, until }] });
      }
    }
  }
  return found;
}

/**
 * The ids of work that followed something whose wait nobody knows, or has decided on; also once the
 * planting has ended: what was picked is then still in the store.
 * @param {Context} context @param {Rule} rule @param {string} kind
 */
export function inDoubt(context, rule, kind) {
  const prefix = keyPrefix(context, rule);
  const done = context.byKind.get(kind) ?? [];
  /** @type {Set<string>} */
  const found = new Set();
  for (const { event, begin, whyUnknown } of spansOf(context, rule)) {
    if (whyUnknown === "" || event.lifted || context.declined.has(prefix + event.id)) continue;
    for (const work of done.slice(since(done, begin))) {
      if (isAgainst(context, rule, event, work) && isWorkHere(context, rule, work)) found.add(work.id);
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
  const isWhole = rule.params.reach === "bed" || rule.params.reach === "soil";
  if (isWhole || treated === null || worked === null) return true;
  return worked.some((plant) => treated.has(plant));
}

/** @param {Context} context @param {Rule} rule @param {Span} span */
function wasLifted(context, rule, span) {
  const { event, begin: from, until } = span;
  const lifted = /** @type {{person?: string, instant: number}} */ (event.lifted);
  const lifted_instant = lifted.instant;
  const why = [
    reason("withhold.lifted", { person: lifted.person ?? null, lifted_instant }),
    ...spanReasons(context, rule, span),
  ];
  const values = { until_instant: until, lifted_instant };
  const made = finding(context, rule, event.id, "noted", values, why, [event]);
  made.message.key = "withhold.lifted";
  return about(context, rule, { ...made, from, until, settles: null }, event);
}
