// @ts-check
/**
 * Frost in the coming night: by the low that the grower types, else only what can't be told.
 * Twin of server/shedbook/rules/frost.py.
 */
import { civilDate, dayNumber, dayText, monthDays, parseDay } from "../log/moment.js";
import { isAnswered } from "./answered.js";
import { dailyAir, eventsInDays } from "./daily.js";
import { finding, reason } from "./finding.js";
import { days, findFor, limit, number, stands, text } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

/** Places in the year are counted in a leap year, which has every date. */
const LEAP_YEAR = 2000;
const NEW_YEAR = dayNumber(LEAP_YEAR, 1, 1);
const YEAR_DAYS = 366;
const HALF_YEAR = 183;

/**
 * Cover tonight, or say that nobody can tell; an expected low above the limit says nothing.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function frost(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const { today } = context;
  const ordinal = dayText(today);
  if (!stands(planting, today) || isAnswered(context, rule, ordinal)) return [];
  if (isCovered(context, planting)) return [];
  const told = toldTonight(context);
  if (told === undefined) {
    const risk = riskOf(context, rule);
    if (risk === null) return [];
    const why = [risk, reason("frost.ask")];
    const made = finding(context, rule, ordinal, "unknown", {}, why, []);
    return [{ ...made, settles: { kind: "forecast", details: {} } }];
  }
  const low = /** @type {number} */ (told.details.low_c);
  const coverAt = limit(context, rule, "cover_at_c") ?? 0;
  if (low > coverAt) return [];
  const values = { low_c: low, cover_at_c: coverAt };
  const why = [
    reason("done.forecast", { done_day: told.day }),
    reason("frost.limit", values),
    reason("frost.still_nights"),
  ];
  const made = finding(context, rule, ordinal, "due", { ...values }, why, [told]);
  return [{ ...made, opens: today, due: today, closes: today }];
}

/** The forecast for tonight that was written last. @param {Context} context */
const toldTonight = (context) => eventsInDays(context, "forecast", context.today, context.today)
  .filter((event) => number(event.details.low_c) !== null)
  .at(-1);

/**
 * Was a cover put on today and not taken off again?
 * @param {Context} context @param {Planting} planting
 */
function isCovered(context, planting) {
  const last = findFor(context, { kind: "cover" }, planting).at(-1);
  return last !== undefined && last.day === context.today && last.details.what !== "none";
}

/**
 * Why frost can't be ruled out tonight; null in the part of the year that has none.
 * @param {Context} context @param {Rule} rule
 */
function riskOf(context, rule) {
  const { settings } = context.view;
  const [last, first] = [placeOf(settings.last_frost), placeOf(settings.first_frost)];
  if (last === null && first === null) {
    return wasWarm(context, rule) ? null : reason("frost.no_dates");
  }
  const [year, month, day] = civilDate(context.today);
  const part = partOf(dayNumber(LEAP_YEAR, month, day) - NEW_YEAR, last, first);
  if (part === "ahead" && last !== null) {
    const coming = inYear(year, last);
    const due = coming >= context.today ? coming : inYear(year + 1, last);
    return reason("frost.ahead", { last_frost_day: due });
  }
  if (part === "since" && first !== null) {
    const past = inYear(year, first);
    const came = past <= context.today ? past : inYear(year - 1, first);
    return reason("frost.since", { first_frost_day: came });
  }
  return null;
}

/** How far round the year one place is from another. @param {number} from @param {number} to */
const ahead = (from, to) => (to - from + YEAR_DAYS) % YEAR_DAYS;

/**
 * Is the last frost of spring ahead, the first of autumn past, or neither?
 * @param {number} today @param {number | null} last @param {number | null} first
 */
function partOf(today, last, first) {
  if (last === null) return first !== null && ahead(first, today) < HALF_YEAR ? "since" : null;
  const toLast = ahead(today, last);
  if (first === null) return toLast > 0 && toLast < HALF_YEAR ? "ahead" : null;
  if (ahead(last, today) < ahead(last, first)) return null;
  return toLast <= ahead(first, today) ? "ahead" : "since";
}

/** Which day of a leap year it is, null if it is no day. @param {unknown} monthDay */
function placeOf(monthDay) {
  const written = text(monthDay);
  if (written === null) return null;
  try {
    return parseDay(`${LEAP_YEAR}-${written}`) - NEW_YEAR;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** The date of that place in a year. @param {number} year @param {number} place */
function inYear(year, place) {
  const [, month, day] = civilDate(NEW_YEAR + place);
  return dayNumber(year, month, Math.min(day, monthDays(year, month)));
}

/**
 * Were the nights read of late all far from frost? Then nobody is asked about tonight.
 * @param {Context} context @param {Rule} rule
 */
function wasWarm(context, rule) {
  const first = context.today - days(context, rule, "look_back_days");
  const lows = dailyAir(context, context.view.planting, first, context.today)
    .flatMap((one) => one.low_c ?? []);
  const quiet = limit(context, rule, "quiet_above_c") ?? 0;
  return lows.length > 0 && lows.every((low) => low > quiet);
}
