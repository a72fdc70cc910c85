// @ts-check
/**
 * A value against limits: a measurement, a plan, or what was written down with some work.
 *
 * Without `at`, the value of today is judged, perhaps only in the days around a planned day
 * (`gate`); with `at`, each recent event of a kind is judged by the value that held then. A value
 * that is missing is unknown where the row `asks` for it, and passed over where it does not.
 * Twin of server/shedbook/rules/threshold.py.
 */
import { anchorDay, hasHappened } from "./anchor.js";
import { finding, keyPrefix, reason } from "./finding.js";
import { cropFact, days, findFor, hasEnded, limit, namedPlants, number } from "./match.js";
import { read } from "./measure.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */
/** @typedef {import("./measure.js").Reading} Reading */
/** @typedef {"at_least" | "at_most" | "better_at_least" | "better_at_most"} Bound */
/** @typedef {Map<Bound, number>} Bounds */
/**
 * When a value is judged: today, or at an event; `why` tells of the occasion.
 * @typedef {{ordinal: string, day: number, event: Event | null, why: Reason[]}} Moment
 */

/** @type {Bound[]} */
const BOUNDS = ["at_least", "at_most", "better_at_least", "better_at_most"];

/**
 * A finding for each moment at which the value breaks a limit, falls short or is missing.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function threshold(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  if (hasHappened(context, planting, rule.params.only_before ?? [])) return [];
  const moments = rule.params.at
    ? eventsOf(context, rule, planting)
    : ofToday(context, rule, planting);
  return moments.flatMap((moment) => judge(context, rule, planting, moment) ?? []);
}

/**
 * The recent events that are judged; old ones teach nothing any more.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 * @returns {Moment[]}
 */
function eventsOf(context, rule, planting) {
  const first = context.today - days(context, rule, "recent_days");
  return findFor(context, rule.params.at, planting)
    .filter((event) => event.day >= first)
    .map((event) => {
      const why = [reason(`did.${event.kind}`, { happened_instant: event.instant })];
      return { ordinal: event.id, day: event.day, event, why };
    });
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 * @returns {Moment[]}
 */
function ofToday(context, rule, planting) {
  const { today } = context;
  if (hasEnded(planting, today)) return [];
  const { gate } = rule.params;
  if (!gate) return [{ ordinal: "now", day: today, event: null, why: [] }];
  const planned = anchorDay(context, planting, gate.day_of);
  if (planned === null) return [];
  const { field, day } = planned;
  if (today < day - gate.before_days || today > day + gate.after_days) return [];
  const why = [reason(`anchor.${field}`, { anchor_day: day })];
  return [{ ordinal: "now", day: today, event: null, why }];
}

/**
 * The limits that are known: the row's or the garden's own, else the crop's.
 * @param {Context} context @param {Rule} rule @param {Planting} planting
 */
function boundsOf(context, rule, planting) {
  /** @type {Bounds} */
  const found = new Map();
  for (const name of BOUNDS) {
    const fact = rule.params[`${name}_of_crop`];
    let chosen = limit(context, rule, name);
    if (chosen === null && fact) chosen = number(cropFact(context, planting.crop, fact));
    if (chosen !== null) found.set(name, chosen);
  }
  return found;
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {Moment} moment
 * @returns {Finding | null}
 */
function judge(context, rule, planting, moment) {
  const { params } = rule;
  if (context.declined.has(keyPrefix(context, rule) + moment.ordinal)) return null;
  const reading = read(context, params.value, moment.day, moment.event);
  if (params.is_not) return judgeWord(context, rule, moment, reading);
  const bounds = boundsOf(context, rule, planting);
  if (!bounds.size) return null;
  const value = number(reading.value);
  if (value === null) return unknown(context, rule, moment, limits(rule, bounds));
  const verdict = verdictOf(value, bounds);
  if (verdict === null && !params.gate) return null;
  const { state, word, bound } = verdict
    ?? { state: /** @type {const} */ ("noted"), word: "met", bound: null };
  const values = bound === null ? { value } : { value, limit: bounds.get(bound) };
  const why = [
    reason(`threshold.${reading.how}_${params.unit}`, { value, ...reading.told }),
    ...limits(rule, bounds),
  ];
  const made = findingOf(context, rule, moment, state, values, why, reading);
  made.message.key = `${rule.says ?? "threshold"}.${word}_${params.unit}`;
  return made;
}

/**
 * The state, its word and the limit that decides; null when all are met.
 * @param {number} value @param {Bounds} bounds
 * @returns {{state: "flagged" | "noted", word: string, bound: Bound} | null}
 */
function verdictOf(value, bounds) {
  /** @param {Bound} name */
  const bound = (name) => bounds.get(name) ?? value;
  if (value < bound("at_least")) return { state: "flagged", word: "low", bound: "at_least" };
  if (value > bound("at_most")) return { state: "flagged", word: "high", bound: "at_most" };
  if (value < bound("better_at_least")) {
    return { state: "noted", word: "short", bound: "better_at_least" };
  }
  if (value > bound("better_at_most")) {
    return { state: "noted", word: "over", bound: "better_at_most" };
  }
  return null;
}

/**
 * A choice, or yes and no, against those that it should not be.
 * @param {Context} context @param {Rule} rule @param {Moment} moment @param {Reading} reading
 */
function judgeWord(context, rule, moment, reading) {
  const { value, field } = reading;
  const word = value === true ? "yes" : value === false ? "no" : value;
  if (typeof word !== "string") return unknown(context, rule, moment, []);
  if (!rule.params.is_not.includes(word)) return null;
  const why = [reason(`threshold.word_${field}`, { [field]: value })];
  return findingOf(context, rule, moment, "flagged", {}, why, reading);
}

/** @param {Rule} rule @param {Bounds} bounds */
const limits = (rule, bounds) => [...bounds].map(([name, bound]) =>
  reason(`threshold.${name}_${rule.params.unit}`, { limit: bound }));

/**
 * @param {Context} context @param {Rule} rule @param {Moment} moment @param {Reason[]} limiting
 */
function unknown(context, rule, moment, limiting) {
  if (!rule.params.asks) return null;
  const why = [reason("threshold.missing"), ...limiting];
  return findingOf(context, rule, moment, "unknown", {}, why, null);
}

/**
 * @param {Context} context @param {Rule} rule @param {Moment} moment
 * @param {Finding["state"]} state @param {Record<string, unknown>} values @param {Reason[]} why
 * @param {Reading | null} reading
 */
function findingOf(context, rule, moment, state, values, why, reading) {
  const { event, ordinal } = moment;
  /** @type {string[]} */
  const noted = rule.params.notes ?? [];
  const change = event !== null ? "deciding" : rule.params.value.of ? "measuring" : "changing";
  const reasons = [
    ...moment.why,
    ...why,
    ...noted.map((name) => reason(`note.${name}`)),
    reason(`threshold.${change}`),
  ];
  const read = reading?.proof ?? [];
  const proof = event === null ? read : [event, ...read.filter((one) => one.id !== event.id)];
  const made = finding(context, rule, ordinal, state, values, reasons, proof);
  const plants = event && namedPlants(event);
  if (plants) made.subject.plants = [...plants];
  return made;
}
