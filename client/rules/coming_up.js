// @ts-check
/**
 * From sowing to seedlings: when they are due by a crop's table, and how many should stand.
 * Twin of server/shedbook/rules/coming_up.py.
 */
import { dailyShare, normalShare } from "../agronomy/emergence.js";
import { OutOfRange } from "../agronomy/errors.js";
import { wilsonInterval } from "../agronomy/proportion.js";
import { isAnswered } from "./answered.js";
import { HORIZON_DAYS, finding, reason } from "./finding.js";
import { HAIR } from "./heat_sum.js";
import { cropFact, days, findFor, hasEnded, limit, number } from "./match.js";
import { seedWarmth, temperatureOn } from "./seed_warmth.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */
/**
 * How far one sowing has come along its table; the days are those on which shares are full.
 * @typedef {{expected: number | null, late: number | null, meanC: number | null, what: string,
 *   trouble: Reason | null}} Way
 */
/** A crop's temperatures with a figure for each.
 * @typedef {{tempsC: number[], values: number[]}} Table */

/** No table has seed that lies longer than this. */
const LONGEST_DAYS = 400;
/** What the interval can be asked for; the narrowest leaves nothing to chance. */
const NARROWEST_Z = 0.001;
const WIDEST_Z = 6;
const MOVED_ON = ["thin", "pot_on", "harden", "transplant", "stage", "pick"];

/**
 * When the last sowing should show, due until it is late, flagged from then on.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function comingUp(context, rule) {
  const sow = lastSowing(context);
  if (sow === null || seedlings(context, sow).length || movedOn(context, sow)) return [];
  const { today } = context;
  const waited = today - sow.day;
  if (waited > LONGEST_DAYS || isAnswered(context, rule, sow.id)) return [];
  const way = wayOf(context, rule, sow);
  const why = [reason("done.sow", { done_day: sow.day })];
  if (way.trouble !== null) {
    if (waited > days(context, rule, "asks_for_days")) return [];
    const reasons = [...why, way.trouble];
    return [{ ...finding(context, rule, sow.id, "unknown", {}, reasons, [sow]), settles: null }];
  }
  const { expected, late } = way;
  if (expected === null || late === null || expected - today > HORIZON_DAYS) return [];
  const factor = limit(context, rule, "late_factor") || 1;
  /** @type {Record<string, number>} */
  const values = { due_day: expected };
  why.push(
    warmthReason(way),
    reason("emergence.table", { table_days: expected - sow.day, due_day: expected }),
    reason("emergence.late", { late_factor: factor, late_day: late }),
  );
  const state = today < expected ? "upcoming" : today < late ? "due" : "flagged";
  if (state === "upcoming") values.ahead_days = expected - today;
  if (state === "flagged") {
    values.sown_days = waited;
    why.push(reason("emergence.change"));
  }
  const made = finding(context, rule, sow.id, state, values, why, [sow]);
  return [{ ...made, opens: expected, due: expected, closes: late - 1 }];
}

/**
 * Fewer seedlings than the table has at that warmth, once the late day has come.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function stand(context, rule) {
  const sow = lastSowing(context);
  if (sow === null || isAnswered(context, rule, sow.id) || movedOn(context, sow)) return [];
  const up = seedlings(context, sow);
  const table = tableOf(context, "normal_seedling_share", -1);
  if (!up.length || table === null || context.today - sow.day > LONGEST_DAYS) return [];
  const { late, meanC, what } = wayOf(context, rule, sow);
  if (late === null || meanC === null || context.today < late) return [];
  const proof = [sow, ...up];
  const count = Math.max(0, ...up.map((event) => number(event.details.count) ?? 0));
  const seeds = number(sow.details.seeds);
  if (seeds === null || seeds < 1 || !(count > 0 && count <= seeds)) {
    if (context.today - late > days(context, rule, "asks_for_days")) return [];
    const why = [reason("stand.ask")];
    return [{ ...finding(context, rule, sow.id, "unknown", {}, why, proof), settles: null }];
  }
  const normal = orNull(() => normalShare(table.tempsC, table.values, meanC));
  if (normal === null || count / seeds >= normal) return [];
  const width = Math.min(Math.max(limit(context, rule, "chance_z") ?? 0, NARROWEST_Z), WIDEST_Z);
  const highest = wilsonInterval(count, seeds, width).high;
  const values = { count, seeds, stand_share: count / seeds, normal_share: normal };
  const why = [
    warmthReason({ what, meanC }),
    reason("stand.late", { late_day: late }),
    reason("stand.chance", { highest_share: highest, normal_share: normal }),
    reason("stand.change"),
  ];
  const state = highest < normal ? "flagged" : "noted";
  return [finding(context, rule, sow.id, state, values, why, proof)];
}

/** What it gives, null where the table has no figure. @param {() => number} figure */
function orNull(figure) {
  try {
    return figure();
  } catch (error) {
    if (error instanceof OutOfRange) return null;
    throw error;
  }
}

/** @param {Context} context */
const plantingOf = (context) => /** @type {Planting} */ (context.view.planting);

/** @param {Context} context @returns {Event | null} */
function lastSowing(context) {
  const planting = plantingOf(context);
  if (hasEnded(planting, context.today)) return null;
  return findFor(context, { kind: "sow" }, planting).at(-1) ?? null;
}

/** What was seen to come up since the sowing. @param {Context} context @param {Event} sow */
const seedlings = (context, sow) =>
  findFor(context, { kind: "emerge" }, plantingOf(context)).filter((event) => event.day >= sow.day);

/**
 * Was anything done since that takes seedlings? Then they came up, and were chosen from.
 * @param {Context} context @param {Event} sow
 */
const movedOn = (context, sow) => MOVED_ON.some((kind) =>
  findFor(context, { kind }, plantingOf(context)).some((event) => event.day >= sow.day));

/**
 * Walk along the table day by day, past today as warm as it was read last.
 * @param {Context} context @param {Rule} rule @param {Event} sow
 */
function wayOf(context, rule, sow) {
  /** @type {Way} */
  const way = { expected: null, late: null, meanC: null, what: "soil", trouble: null };
  const table = tableOf(context, "emergence_days", 0);
  if (table === null) {
    const crop = plantingOf(context).crop ?? null;
    return { ...way, trouble: reason("emergence.no_table", { crop }) };
  }
  const held = days(context, rule, "held_days");
  const warmth = seedWarmth(context, plantingOf(context), sow, held);
  if (!warmth.days.length) return { ...way, trouble: reason("emergence.no_reading") };
  way.what = warmth.what;
  const factor = Math.max(limit(context, rule, "late_factor") || 1, 1);
  let [total, temps, read] = [0, 0, 0];
  for (let day = sow.day; day < sow.day + LONGEST_DAYS; day += 1) {
    // The days to come are taken to be as warm as the last one that was read.
    const known = Math.min(day, Math.max(context.today - 1, warmth.days[warmth.days.length - 1]));
    const temp = temperatureOn(warmth, known, held);
    if (temp === null) return { ...way, trouble: reason("emergence.gap", { gap_day: day }) };
    const share = orNull(() => dailyShare(table.tempsC, table.values, temp));
    if (share === null) return { ...way, trouble: outside(table, temp, day) };
    total += share;
    if (day < context.today) {
      temps += temp;
      read += 1;
      way.meanC = temps / read;
    }
    if (way.expected === null && total >= 1 - HAIR) way.expected = day + 1;
    if (total >= factor - HAIR) return { ...way, late: day + 1 };
  }
  return way;
}

/** @param {Table} table @param {number} temp @param {number} day */
const outside = ({ tempsC }, temp, day) => reason("emergence.outside", {
  temperature_c: temp, read_day: day, from_c: tempsC[0], to_c: tempsC[tempsC.length - 1],
});

/**
 * The crop's table, cut to the temperatures that have a figure; null if there is none.
 * @param {Context} context @param {string} fact @param {number} noValue
 * @returns {Table | null}
 */
function tableOf(context, fact, noValue) {
  const { crop } = plantingOf(context);
  const temps = numbers(cropFact(context, crop, "emergence_soil_c"));
  const values = numbers(cropFact(context, crop, fact));
  if (temps === null || values === null || temps.length !== values.length) return null;
  if (temps.some((temp, at) => at > 0 && temp <= temps[at - 1])) return null;
  const told = [...values.keys()].filter((at) => values[at] > noValue);
  if (!told.length) return null;
  const [first, last] = [told[0], told[told.length - 1] + 1];
  return { tempsC: temps.slice(first, last), values: values.slice(first, last) };
}

/** A list of numbers of a size that such a table can have. @param {unknown} value */
function numbers(value) {
  if (!Array.isArray(value)) return null;
  const kept = value.map(number)
    .filter((one) => one !== null && one >= -100 && one <= LONGEST_DAYS);
  return kept.length === value.length ? /** @type {number[]} */ (kept) : null;
}

/** @param {{what: string, meanC: number | null}} way */
const warmthReason = ({ what, meanC }) =>
  reason(what === "soil" ? "emergence.soil" : "emergence.air", { mean_c: meanC });
