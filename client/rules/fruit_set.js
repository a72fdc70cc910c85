// @ts-check
/**
 * Days on which blossoms may drop for cold or heat, and the gap in picking that may follow. Limits
 * are graded: days past the outer ones are counted and told, days past the stronger ones are
 * flagged when several come together. Twin of server/shedbook/rules/fruit_set.py.
 */
import { isAnswered, isDeclinedSince } from "./answered.js";
import { DAY_S } from "./daily.js";
import { HORIZON_DAYS, finding, reason } from "./finding.js";
import { days, findFor, hasEnded, limit, number } from "./match.js";
import { pastAir } from "./past_air.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./daily.js").Day} Day */
/** @typedef {import("./finding.js").Finding} Finding */
/** What a night may not fall below or stay above, and a day not pass; in degrees Celsius.
 * @typedef {{lowNight: number, highNight: number, highDay: number}} Limits */
/** Since when flowers may be open, and what says so; nothing does when it is only assumed.
 * @typedef {{day: number, proof: Event[]}} Bloom */
/** @typedef {ReturnType<typeof countOf>} Count */

const WEEK = 7;
const FIRST_FLOWER_OPEN = 61;
const LAST_STAGE = 99;
/** Looked back over for runs of such days: no fruit is a year on its way. */
const LONGEST_DAYS = 400;

/**
 * The days at risk of the last weeks of bloom: a figure, or flagged when many came together.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function fruitSet(context, rule) {
  const bloom = bloomOf(context, rule);
  const window = days(context, rule, "window_days");
  const since = (context.today - window) * DAY_S;
  if (bloom === null || isDeclinedSince(context, rule, "window", since)) return [];
  const first = Math.max(bloom.day, context.today - window);
  const air = pastAir(context, first);
  if (!air.length) return [];
  const count = countOf(context, rule, air);
  const values = { risk_days: count.risk, counted_days: air.length - count.missing };
  const mostMissing = limit(context, rule, "most_missing_days") ?? 0;
  if (count.missing > mostMissing) {
    const lost = { missing: count.missing, most_days: mostMissing };
    const why = [reason("fruit_set.missing", lost)];
    const made = finding(context, rule, "window", "unknown", values, why, bloom.proof);
    return [{ ...made, settles: null }];
  }
  const why = [bloomReason(bloom), ...limitReasons(context, rule, count)];
  if (isStrong(context, rule, count)) {
    const together = { run_days: count.longestRun, week_days: count.mostInWeek };
    why.push(reason("fruit_set.strong", together));
    return [finding(context, rule, "window", "flagged", values, why, bloom.proof)];
  }
  if (count.risk < Math.max(limit(context, rule, "told_from_days") ?? 0, 1)) return [];
  return [finding(context, rule, "window", "noted", values, why, bloom.proof)];
}

/**
 * For each run of strong days: between which days little may be there to pick.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function pickingGap(context, rule) {
  const bloom = bloomOf(context, rule);
  if (bloom === null) return [];
  const { today } = context;
  const first = Math.max(bloom.day, today - LONGEST_DAYS);
  const air = pastAir(context, first);
  const lag = {
    lag_from_days: days(context, rule, "lag_from_days"),
    lag_to_days: days(context, rule, "lag_to_days"),
  };
  const found = [];
  for (const { start, end } of runsOf(air, limitsOf(context, rule, "strong_"))) {
    const [from, to] = [start + lag.lag_from_days, end + lag.lag_to_days];
    const isLong = end - start + 1 >= Math.max(limit(context, rule, "run_days") ?? 0, 1);
    const isNear = from - HORIZON_DAYS <= today && today <= to;
    if (!isLong || !isNear || isAnswered(context, rule, String(start))) continue;
    const why = [
      reason("picking_gap.run", { start_day: start, end_day: end }),
      reason("picking_gap.lag", lag),
      reason("picking_gap.change"),
    ];
    const values = { from_day: from, to_day: to };
    const made = finding(context, rule, String(start), "noted", values, why, bloom.proof);
    found.push({ ...made, opens: from, closes: to });
  }
  return found;
}

/**
 * The first bloom that was noted, else so many days after planting out.
 * @param {Context} context @param {Rule} rule
 * @returns {Bloom | null}
 */
export function bloomOf(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  if (hasEnded(planting, context.today)) return null;
  for (const event of findFor(context, { kind: "stage" }, planting)) {
    const code = number(event.details.bbch);
    const isOpen = code !== null && code >= FIRST_FLOWER_OPEN && code <= LAST_STAGE;
    if (isOpen || event.details.first_bloom === true) return { day: event.day, proof: [event] };
  }
  const planted = planting.transplanted_day;
  if (planted === undefined) return null;
  return { day: planted + days(context, rule, "bloom_after_days"), proof: [] };
}

/** @param {Bloom} bloom */
const bloomReason = ({ day, proof }) =>
  reason(proof.length ? "fruit_set.bloom_seen" : "fruit_set.bloom_assumed", { bloom_day: day });

/** @param {Context} context @param {Rule} rule @param {string} strength @returns {Limits} */
export const limitsOf = (context, rule, strength) => ({
  lowNight: limit(context, rule, `${strength}low_night_c`) ?? 0,
  highNight: limit(context, rule, `${strength}high_night_c`) ?? 0,
  highDay: limit(context, rule, `${strength}high_day_c`) ?? 0,
});

/** @param {Day} one @param {Limits} limits */
export function isPast(one, { lowNight, highNight, highDay }) {
  if (one.how === "missing") return false;
  return one.low_c < lowNight || one.low_c > highNight || one.high_c > highDay;
}

/** @param {Context} context @param {Rule} rule @param {Day[]} air */
function countOf(context, rule, air) {
  const [outer, strong] = [limitsOf(context, rule, ""), limitsOf(context, rule, "strong_")];
  const count = {
    coldNights: 0, warmNights: 0, hotDays: 0, risk: 0, strong: 0, longestRun: 0, mostInWeek: 0,
    missing: 0, filled: 0,
  };
  let run = 0;
  /** @type {boolean[]} */
  const past = [];
  for (const one of air) {
    const isStrongDay = isPast(one, strong);
    past.push(isStrongDay);
    run = isStrongDay ? run + 1 : 0;
    count.longestRun = Math.max(count.longestRun, run);
    count.mostInWeek = Math.max(count.mostInWeek, past.slice(-WEEK).filter(Boolean).length);
    count.strong += isStrongDay ? 1 : 0;
    count.filled += one.how === "filled" ? 1 : 0;
    if (one.how === "missing") {
      count.missing += 1;
      continue;
    }
    count.coldNights += one.low_c < outer.lowNight ? 1 : 0;
    count.warmNights += one.low_c > outer.highNight ? 1 : 0;
    count.hotDays += one.high_c > outer.highDay ? 1 : 0;
    count.risk += isStrongDay || isPast(one, outer) ? 1 : 0;
  }
  return count;
}

/** @param {Context} context @param {Rule} rule @param {Count} count */
function isStrong(context, rule, count) {
  const run = Math.max(limit(context, rule, "flag_run_days") ?? 0, 1);
  const inWeek = Math.max(limit(context, rule, "flag_week_days") ?? 0, 1);
  return count.longestRun >= run || count.mostInWeek >= inWeek;
}

/** @param {Context} context @param {Rule} rule @param {Count} count */
function limitReasons(context, rule, count) {
  const [outer, strong] = [limitsOf(context, rule, ""), limitsOf(context, rule, "strong_")];
  const why = [
    reason("fruit_set.cold", { cold_nights: count.coldNights, low_night_c: outer.lowNight }),
    reason("fruit_set.warm", { warm_nights: count.warmNights, high_night_c: outer.highNight }),
    reason("fruit_set.hot", { hot_days: count.hotDays, high_day_c: outer.highDay }),
    reason("fruit_set.strong_limits", {
      strong_days: count.strong, low_night_c: strong.lowNight, high_night_c: strong.highNight,
      high_day_c: strong.highDay,
    }),
  ];
  if (count.filled > 0) why.push(reason("fruit_set.filled", { filled: count.filled }));
  return why;
}

/**
 * First and last day of each unbroken run of days past the limits that has ended.
 * @param {Day[]} air @param {Limits} limits
 */
function runsOf(air, limits) {
  const runs = [];
  /** @type {number | null} */
  let start = null;
  for (const one of air) {
    if (isPast(one, limits)) {
      start = start ?? one.day;
    } else if (start !== null) {
      runs.push({ start, end: one.day - 1 });
      start = null;
    }
  }
  return runs;
}
