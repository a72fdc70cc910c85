// @ts-check
/**
 * What the log says of the last days' weather, as plain counts.
 * Twin of server/shedbook/rules/weather_features.py.
 * null where nothing was written down that could say so: no thermometer is not the same as no heat.
 */
import { text } from "./match.js";

/** @typedef {import("../types.js").LoggedEvent} Event */
/** @typedef {Record<string, number | null>} Features */

/** Counted as a day of wet leaves (common practice, no source). */
const RAIN_THAT_WETS_MM = 1;
const HOURS_THAT_COUNT = 6;
/** Degrees above or below which a day or night counts (common practice, no source). */
const WARM_DAY_C = 24;
const HOT_DAY_C = 32;
const HOT_NIGHT_C = 21;
const COOL_NIGHT_C = 15;
const COLD_NIGHT_C = 8;
const HUMID_PERCENT = 90;
/** A rain gauge that was read within these days before the window is one that is kept. */
const GAUGE_KEPT_DAYS = 10;

/**
 * The features of the days up to today, from a view's events.
 * @param {readonly Event[]} events @param {import("../types.js").Bed | null} bed
 * @param {number} today @param {number} days
 * @returns {Features}
 */
export function weatherFeatures(events, bed, today, days) {
  const first = today - days + 1;
  const past = events.filter((event) => event.day <= today);
  const recent = past.filter((event) => event.day >= first);
  const usual = bed?.water_method ?? null;
  const water = recent.filter((event) => event.kind === "water");
  const overhead = new Set(water.filter((event) => methodOf(event, usual) === "overhead")
    .map((event) => event.day));
  return {
    ...wetness(past, first, overhead),
    overhead_waterings: water.length ? overhead.size : null,
    dry_gap_days: dryGap(past, first, today),
    ...temperatures(recent),
    humid_days: humid(recent),
  };
}

/**
 * seedling before it is out, fruiting once picked; in between the log does not say.
 * @param {import("../types.js").Planting | null} planting
 */
export function stageOf(planting) {
  if (planting === null) return null;
  if ((planting.from_day ?? null) === null) return "seedling";
  return (planting.first_pick_day ?? null) === null ? null : "fruiting";
}

/**
 * Days of wet leaves, and the rain; a gauge that is kept reads nothing on a dry day.
 * @param {Event[]} past @param {number} first @param {Set<number>} overhead
 * @returns {Features}
 */
function wetness(past, first, overhead) {
  const kept = first - GAUGE_KEPT_DAYS;
  const rain = past.filter((event) => hasRained(event) && event.day >= kept);
  const leaves = past.filter((event) => event.kind === "leaf_wetness" && event.day >= kept);
  const wet = new Set(overhead);
  let fallen = 0;
  for (const event of rain) {
    const depth = depthOf(event) ?? 0;
    if (event.day < first) continue;
    fallen += depth;
    if (depth >= RAIN_THAT_WETS_MM) wet.add(event.day);
  }
  for (const event of leaves) {
    if (event.day >= first && wasWet(event)) wet.add(event.day);
  }
  return {
    wet_leaf_days: rain.length || leaves.length ? wet.size : null,
    rain_mm: rain.length ? fallen : null,
  };
}

/** @param {Event} event */
const hasRained = (event) => event.kind === "rain" && depthOf(event) !== null;

/** @param {Event} event */
function wasWet(event) {
  const hours = number(event.details.hours);
  return event.details.wet === true || (hours !== null && hours >= HOURS_THAT_COUNT);
}

/**
 * The most days in a row without water or rain, from the first watering that was logged on.
 * @param {Event[]} past @param {number} first @param {number} today
 */
function dryGap(past, first, today) {
  const given = new Set(past.filter((event) => event.kind === "water").map((event) => event.day));
  if (!given.size) return null;
  let start = first;
  let earliest = today;
  for (const day of given) earliest = Math.min(earliest, day);
  start = Math.max(start, earliest);
  for (const event of past) {
    if (event.kind === "rain" && (depthOf(event) ?? 0) >= RAIN_THAT_WETS_MM) given.add(event.day);
  }
  let longest = 0;
  let run = 0;
  for (let day = start; day <= today; day += 1) {
    run = given.has(day) ? 0 : run + 1;
    longest = Math.max(longest, run);
  }
  return longest;
}

/**
 * Days and nights past a limit; readings of one day are joined.
 * @param {Event[]} recent
 * @returns {Features}
 */
function temperatures(recent) {
  /** @type {Map<number, number>} */
  const lows = new Map();
  /** @type {Map<number, number>} */
  const highs = new Map();
  for (const event of recent) {
    if (event.kind !== "air_temperature") continue;
    const low = number(event.details.low_c);
    const high = number(event.details.high_c);
    if (low !== null) lows.set(event.day, Math.min(low, lows.get(event.day) ?? low));
    if (high !== null) highs.set(event.day, Math.max(high, highs.get(event.day) ?? high));
  }
  return {
    warm_days: count(highs, WARM_DAY_C, true),
    hot_days: count(highs, HOT_DAY_C, true),
    hot_nights: count(lows, HOT_NIGHT_C, true),
    cool_nights: count(lows, COOL_NIGHT_C, false),
    cold_nights: count(lows, COLD_NIGHT_C, false),
  };
}

/** @param {Map<number, number>} readings @param {number} limit @param {boolean} isAbove */
function count(readings, limit, isAbove) {
  if (!readings.size) return null;
  return [...readings.values()].filter((c) => (isAbove ? c >= limit : c <= limit)).length;
}

/** @param {Event[]} recent */
function humid(recent) {
  /** @type {Map<number, number>} */
  const told = new Map();
  for (const event of recent) {
    const value = number(event.details.humidity_high_percent);
    if (event.kind === "day_weather" && value !== null) told.set(event.day, value);
  }
  return count(told, HUMID_PERCENT, true);
}

/** @param {Event} event @param {unknown} usual */
const methodOf = (event, usual) => text(event.details.method) ?? usual;

/** @param {Event} event */
const depthOf = (event) => number(event.details.depth_mm);

/** @param {unknown} value */
const number = (value) => (typeof value === "number" ? value : null);
