// @ts-check
/**
 * The weather of a subject day by day: air with its gaps filled by a stated method, and rain.
 *
 * Readings of one day are joined: the lowest low, the highest high. A reading of the planting goes
 * before one of its bed, and that before one of the whole garden. Lows and highs of up to FILL_DAYS
 * days without a reading are drawn on a straight line between their neighbours; where the readings
 * begin or end, the nearest one is held for as long. A longer gap is missing.
 * Twin of server/shedbook/rules/daily.py.
 */
import { number, since } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/**
 * The air of one day.
 * @typedef {{day: number, low_c: number, high_c: number, how: "measured" | "filled"}
 *   | {day: number, low_c: null, high_c: null, how: "missing"}} Day
 */
/**
 * How near a reading was taken, its low and its high.
 * @typedef {{near: number, low: number | null, high: number | null}} Reading
 */

export const DAY_S = 86_400;
/** A local day begins and ends at most this long before or after the same day at Greenwich. */
const FURTHEST_ZONE_S = 14 * 3600;
export const FILL_DAYS = 5;
/** Rain that is written down at all is taken to be written down whenever it falls. */
const RAIN_KEPT_DAYS = 10;
export const COLDEST_C = -60;
export const WARMEST_C = 60;
/** Nearness of a reading: of the planting, of its bed, of the garden. */
export const FARTHEST = 2;

/**
 * Low and high of each day of the span, around a planting or around the view's bed.
 * @param {Context} context @param {Planting | null} planting
 * @param {number} firstDay @param {number} lastDay @param {number} [fillDays]
 * @returns {Day[]}
 */
export function dailyAir(context, planting, firstDay, lastDay, fillDays = FILL_DAYS) {
  const key = `air/${planting === null ? "" : planting.id}/${firstDay}/${lastDay}/${fillDays}`;
  const known = /** @type {Day[] | undefined} */ (context.known.get(key))
    ?? airOf(context, planting, firstDay, lastDay, fillDays);
  context.known.set(key, known);
  return known;
}

/**
 * Millimetres of rain on each day of the span; null where no gauge was being read. A reading counts
 * on its day. A day without one had no rain if the gauge was read within ten days before or after.
 * @param {Context} context @param {number} firstDay @param {number} lastDay
 * @returns {(number | null)[]}
 */
export function dailyRain(context, firstDay, lastDay) {
  const key = `rain/${firstDay}/${lastDay}`;
  const known = /** @type {(number | null)[] | undefined} */ (context.known.get(key))
    ?? rainOf(context, firstDay, lastDay);
  context.known.set(key, known);
  return known;
}

/**
 * The kind's events on the days of the span, earliest first.
 * @param {Context} context @param {string} kind @param {number} firstDay @param {number} lastDay
 */
export function eventsInDays(context, kind, firstDay, lastDay) {
  const events = context.byKind.get(kind) ?? [];
  const ends = (lastDay + 1) * DAY_S + FURTHEST_ZONE_S;
  const found = [];
  for (let at = since(events, firstDay * DAY_S - FURTHEST_ZONE_S); at < events.length; at += 1) {
    if (events[at].instant >= ends) break;
    if (events[at].day >= firstDay && events[at].day <= lastDay) found.push(events[at]);
  }
  return found;
}

/**
 * @param {Context} context @param {Planting | null} planting
 * @param {number} firstDay @param {number} lastDay @param {number} fillDays
 * @returns {Day[]}
 */
function airOf(context, planting, firstDay, lastDay, fillDays) {
  const around = fillDays + 1;
  const read = readingsOf(context, planting, firstDay - around, lastDay + around);
  let [start, end] = [firstDay, lastDay];
  for (const day of read.keys()) {
    if (day < start) start = day;
    if (day > end) end = day;
  }
  /** @type {(number | null)[]} */
  const lows = [];
  /** @type {(number | null)[]} */
  const highs = [];
  for (let day = start; day <= end; day += 1) {
    lows.push(read.get(day)?.low ?? null);
    highs.push(read.get(day)?.high ?? null);
  }
  const [low, high] = [fill(lows, fillDays), fill(highs, fillDays)];
  const days = [];
  for (let day = firstDay; day <= lastDay; day += 1) {
    days.push(joined(day, low[day - start], high[day - start], read.get(day)));
  }
  return days;
}

/**
 * What was read on each day at the nearest place; a low above the high tells nothing.
 * @param {Context} context @param {Planting | null} planting
 * @param {number} firstDay @param {number} lastDay
 */
function readingsOf(context, planting, firstDay, lastDay) {
  /** @type {Map<number, Reading>} */
  const read = new Map();
  for (const event of eventsInDays(context, "air_temperature", firstDay, lastDay)) {
    const near = nearness(context, event, planting);
    const known = read.get(event.day);
    if (near === null || (known !== undefined && near > known.near)) continue;
    let low = temperature(event, "low_c");
    let high = temperature(event, "high_c");
    if (known !== undefined && near === known.near) {
      low = low === null ? known.low : known.low === null ? low : Math.min(low, known.low);
      high = high === null ? known.high : known.high === null ? high : Math.max(high, known.high);
    }
    if (low !== null || high !== null) read.set(event.day, { near, low, high });
  }
  for (const [day, { low, high }] of read) {
    if (low !== null && high !== null && low > high) read.delete(day);
  }
  return read;
}

/**
 * 0 at the planting, 1 at its bed, 2 anywhere in the garden; null at another place.
 * @param {Context} context @param {Event} event @param {Planting | null} planting
 */
function nearness(context, event, planting) {
  if (event.planting !== undefined) {
    return planting !== null && event.planting === planting.id ? 0 : null;
  }
  if (event.bed === undefined) return FARTHEST;
  const ownBed = planting === null ? context.view.subject.bed : planting.bed;
  return event.bed === ownBed ? 1 : null;
}

/** @param {Event} event @param {string} field */
function temperature(event, field) {
  const value = number(event.details[field]);
  return value !== null && value >= COLDEST_C && value <= WARMEST_C ? value : null;
}

/**
 * The values with every gap of at most so many days drawn between its neighbours.
 * @param {(number | null)[]} values @param {number} most
 */
function fill(values, most) {
  const filled = [...values];
  let before = -1;
  for (let at = 0; at <= values.length; at += 1) {
    if (at < values.length && values[at] === null) continue;
    const gap = at - before - 1;
    if (gap > 0 && gap <= most) {
      const left = before >= 0 ? values[before] : null;
      const right = at < values.length ? values[at] : null;
      for (let inside = before + 1; inside < at; inside += 1) {
        filled[inside] = between(left, right, (inside - before) / (gap + 1));
      }
    }
    before = at;
  }
  return filled;
}

/** @param {number | null} left @param {number | null} right @param {number} share */
function between(left, right, share) {
  if (left === null) return right;
  return right === null ? left : left + (right - left) * share;
}

/**
 * A day's air; what was filled in gives way to what was read.
 * @param {number} day @param {number | null} low @param {number | null} high
 * @param {Reading | undefined} read
 * @returns {Day}
 */
function joined(day, low, high, read) {
  if (low === null || high === null) return { day, low_c: null, high_c: null, how: "missing" };
  if (read !== undefined && read.low !== null && read.high !== null) {
    return { day, low_c: low, high_c: high, how: "measured" };
  }
  if (low > high && read !== undefined && read.high !== null) {
    return { day, low_c: high, high_c: high, how: "filled" };
  }
  return { day, low_c: low, high_c: Math.max(low, high), how: "filled" };
}

/**
 * @param {Context} context @param {number} firstDay @param {number} lastDay
 */
function rainOf(context, firstDay, lastDay) {
  const fallen = fallenOn(context, firstDay - RAIN_KEPT_DAYS, lastDay + RAIN_KEPT_DAYS);
  const days = [...fallen.keys()].sort((one, other) => one - other);
  const found = [];
  let following = 0;
  for (let day = firstDay; day <= lastDay; day += 1) {
    while (following < days.length && days[following] <= day) following += 1;
    const isKept = (following > 0 && day - days[following - 1] <= RAIN_KEPT_DAYS)
      || (following < days.length && days[following] - day <= RAIN_KEPT_DAYS);
    found.push(fallen.get(day)?.depth ?? (isKept ? 0 : null));
  }
  return found;
}

/**
 * What the nearest gauge caught on each day that one was read.
 * @param {Context} context @param {number} firstDay @param {number} lastDay
 */
function fallenOn(context, firstDay, lastDay) {
  /** @type {Map<number, {near: number, depth: number}>} */
  const fallen = new Map();
  for (const event of eventsInDays(context, "rain", firstDay, lastDay)) {
    const near = nearness(context, event, null);
    const depth = number(event.details.depth_mm);
    if (near === null || depth === null || depth < 0) continue;
    const known = fallen.get(event.day) ?? { near: FARTHEST + 1, depth: 0 };
    if (near < known.near) fallen.set(event.day, { near, depth });
    else if (near === known.near) fallen.set(event.day, { near, depth: known.depth + depth });
  }
  return fallen;
}
