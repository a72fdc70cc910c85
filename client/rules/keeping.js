// @ts-check
/**
 * How long a lot in the store keeps, by its crop's published days at the store's temperature.
 * Twin of server/shedbook/rules/keeping.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import { cropFact, find, number, text } from "./match.js";
import { inDoubt, withhold } from "./withhold.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {ReturnType<typeof reason>} Reason */
/** @typedef {{event: Event, picks: Event[], isOut: boolean}} Lot */
/** @typedef {Record<string, unknown>} Values */

// Amounts that a lot may be counted in; a lot is followed in the first that it has.
const UNITS = ["count", "mass_g"];

/** @type {Record<string, import("../types.js").FindingState>} */
const STATE_OF = {
  held: "flagged",
  doubt: "unknown",
  chilled: "flagged",
  recipe: "unknown",
  no_days: "unknown",
  no_temperature: "unknown",
  outside: "unknown",
};

/**
 * One finding for each lot that is still in the store.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function keeping(context, rule) {
  const lots = lotsOf(context).filter((lot) => !lot.isOut);
  if (!lots.length) return [];
  const prefix = keyPrefix(context, rule);
  const picked = { held: pickedInAWait(context), doubt: pickedInDoubt(context) };
  return lots
    .filter((lot) => !context.declined.has(prefix + lot.event.id))
    .map((lot) => ofLot(context, rule, lot, picked));
}

/**
 * Every lot of the planting, the oldest first, with the picks since the lot before it.
 * @param {Context} context
 * @returns {Lot[]}
 */
export function lotsOf(context) {
  const ownId = context.view.planting?.id;
  const ownOf = (/** @type {string} */ kind) =>
    find(context, { kind }).filter((event) => event.planting === ownId);
  return lotsIn(ownOf("store"), ownOf("pick"));
}

/**
 * Is something still in the store, by all that a planting's events say?
 * @param {Event[]} events
 */
export const hasLot = (events) =>
  lotsIn(events.filter(({ kind }) => kind === "store"), []).some((lot) => !lot.isOut);

/**
 * @param {Event[]} own @param {Event[]} picks
 * @returns {Lot[]}
 */
function lotsIn(own, picks) {
  const putIn = own.filter((event) => stepOf(event) === "in" && amountOf(event) !== null);
  const taken = own.filter((event) => stepOf(event) === "out");
  const left = new Map(UNITS.map((unit) => [unit, totalOf(taken, unit)]));
  const lots = [];
  let since = 0;
  for (const event of putIn) {
    const { unit, size } = amountOf(event) ?? { unit: "", size: 0 };
    const has = left.get(unit) ?? 0;
    const isOut = size <= has;
    left.set(unit, isOut ? has - size : 0);
    const from = since;
    const ownPicks = picks.filter(({ instant }) => from < instant && instant <= event.instant);
    lots.push({ event, picks: ownPicks, isOut });
    since = event.instant;
  }
  return lots;
}

/**
 * Whether it was put in, taken out or looked over; in earlier entries it was put in.
 * @param {Event} event
 */
const stepOf = (event) => text(event.details.step) || "in";

/** @param {Event} event */
function amountOf(event) {
  for (const unit of UNITS) {
    const size = number(event.details[unit]);
    if (size !== null) return { unit, size };
  }
  return null;
}

/** @param {Event[]} events @param {string} unit */
function totalOf(events, unit) {
  let total = 0;
  for (const event of events) {
    const amount = amountOf(event);
    if (amount !== null && amount.unit === unit) total += amount.size;
  }
  return total;
}

/**
 * Rules that withhold picking; what only warns of it spoils no fruit.
 * @param {Context} context
 */
function waitsBeforePicking(context) {
  const rules = /** @type {Rule[]} */ (/** @type {unknown} */ (context.rulebook.rules));
  return rules.filter(({ shape, params }) =>
    shape === "withhold" && params.blocks.includes("pick") && params.softly === undefined);
}

/**
 * The ids of picks after something whose wait nobody wrote down.
 * @param {Context} context
 */
const pickedInDoubt = (context) =>
  new Set(waitsBeforePicking(context).flatMap((rule) => [...inDoubt(context, rule, "pick")]));

/**
 * The ids of picks that a wait forbade, and that nobody has decided about.
 * @param {Context} context
 */
function pickedInAWait(context) {
  /** @type {Set<string>} */
  const held = new Set();
  for (const rule of waitsBeforePicking(context)) {
    for (const made of withhold(context, rule)) {
      if (made.state === "flagged") for (const entry of made.entries) held.add(entry);
    }
  }
  return held;
}

/**
 * @param {Context} context @param {Rule} rule @param {Lot} lot
 * @param {{held: Set<string>, doubt: Set<string>}} picked
 * @returns {Finding}
 */
function ofLot(context, rule, lot, picked) {
  const place = text(lot.event.details.place) || "";
  const values = { store_place: place, in_day: lot.event.day };
  for (const why of /** @type {const} */ (["held", "doubt"])) {
    const questioned = lot.picks.filter(({ id }) => picked[why].has(id));
    if (questioned.length) return told(context, rule, lot, why, values, [], questioned);
  }
  const form = text(lot.event.details.form) || "fresh";
  if (form !== "fresh") return told(context, rule, lot, "recipe", values, [], []);
  return ofFresh(context, rule, lot, place, values);
}

/**
 * @param {Context} context @param {Rule} rule @param {Lot} lot @param {string} place
 * @param {Values} values
 * @returns {Finding}
 */
function ofFresh(context, rule, lot, place, values) {
  const crop = context.view.planting?.crop;
  const fact = (/** @type {string} */ name) => number(cropFact(context, crop, name));
  const [low, high] = [fact("keep_days_low"), fact("keep_days_high")];
  const [coolest, warmest] = [fact("keep_low_c"), fact("keep_high_c")];
  if (low === null || high === null || coolest === null || warmest === null) {
    return told(context, rule, lot, "no_days", values, [], []);
  }
  const bounds = { low_c: coolest, high_c: warmest };
  const measured = measuredOf(context, place, lot, "temperature_c");
  if (measured === null) {
    return told(context, rule, lot, "no_temperature", { ...values, ...bounds }, [], []);
  }
  const { figure: at, event } = measured;
  const why = [reason("keeping.measured", { place_c: at, measured_instant: event.instant })];
  const chill = fact("chill_below_c");
  if (chill !== null && at < chill) {
    const cold = { ...values, place_c: at, chill_c: chill };
    return told(context, rule, lot, "chilled", cold, why, [event]);
  }
  if (at < coolest || at > warmest) {
    const outside = { ...values, ...bounds, place_c: at };
    return told(context, rule, lot, "outside", outside, why, [event]);
  }
  why.push(reason("keeping.days", { low_days: low, high_days: high, ...bounds }));
  why.push(...humidity(context, crop, lot, place));
  const span = [Math.floor(low), Math.floor(high)];
  return windowOf(context, rule, lot, span, why, [event], values);
}

/**
 * Due from the shorter of the published days on, late after the longer.
 * @param {Context} context @param {Rule} rule @param {Lot} lot @param {number[]} span
 * @param {Reason[]} why @param {Event[]} events @param {Values} values
 * @returns {Finding}
 */
function windowOf(context, rule, lot, span, why, events, values) {
  const [first, last] = [lot.event.day + span[0], lot.event.day + span[1]];
  const { today } = context;
  const state = today < first ? "upcoming" : today <= last ? "due" : "overdue";
  const all = { ...values, first_day: first, last_day: last };
  const made = finding(context, rule, lot.event.id, state, all, why, [lot.event, ...events]);
  return { ...made, opens: first, due: first, closes: last };
}

/**
 * A word about the air, where both the crop's range and the store's figure are known.
 * @param {Context} context @param {unknown} crop @param {Lot} lot @param {string} place
 */
function humidity(context, crop, lot, place) {
  const low = number(cropFact(context, crop, "keep_humidity_low_percent"));
  const high = number(cropFact(context, crop, "keep_humidity_high_percent"));
  const measured = measuredOf(context, place, lot, "humidity_percent");
  if (low === null || high === null || measured === null) return [];
  const { figure: air } = measured;
  const key = low <= air && air <= high ? "keeping.air" : "keeping.air_outside";
  return [reason(key, { air_percent: air, low_percent: low, high_percent: high })];
}

/**
 * The last figure of the place since the lot went in, whoever's fruit it was written with.
 * @param {Context} context @param {string} place @param {Lot} lot @param {string} field
 */
function measuredOf(context, place, lot, field) {
  const events = find(context, { kind: "store" });
  for (let at = events.length - 1; at >= 0; at -= 1) {
    const event = events[at];
    if (event.instant < lot.event.instant) break;
    const figure = number(event.details[field]);
    if (figure !== null && event.details.place === place) return { figure, event };
  }
  return null;
}

/**
 * @param {Context} context @param {Rule} rule @param {Lot} lot @param {string} why
 * @param {Values} values @param {Reason[]} reasons @param {Event[]} events
 * @returns {Finding}
 */
function told(context, rule, lot, why, values, reasons, events) {
  const sums = [...reasons, reason(`keeping.${why}`, values)];
  const of = [lot.event, ...events];
  const made = finding(context, rule, lot.event.id, STATE_OF[why], values, sums, of);
  return { ...made, message: { key: `keeping.${why}`, values: { ...values } } };
}
