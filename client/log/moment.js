// @ts-check
/**
 * Moments and days without any library clock: the twin of server/shedbook/log/moment.py.
 * One pattern reads a moment on both sides, so a phone and the shed can never disagree on the day.
 */

/**
 * @typedef {{day: number, hour: number, minute: number, second: number, instant: number}} Moment
 */

const FIRST_YEAR = 1970;
const LAST_YEAR = 2199;
const LONGEST_OFFSET_MINUTES = 14 * 60;
const DAY_SECONDS = 86400;
const DAYS_BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];

const MOMENT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/;
const DAY = /^\d{4}-\d\d-\d\d$/;

/** @param {number} whole @param {number} by */
const over = (whole, by) => Math.floor(whole / by);

/**
 * The number that stands in a text; the pattern has seen that these are digits. Cutting the text up
 * instead makes a dozen short-lived texts for each of a log's thousands of moments.
 * @param {string} text @param {number} from @param {number} to
 */
function numberAt(text, from, to) {
  let number = 0;
  for (let at = from; at < to; at += 1) number = number * 10 + text.charCodeAt(at) - 48;
  return number;
}

/** @param {number} number @param {number} width */
const digits = (number, width) => String(number).padStart(width, "0");

/**
 * Whether February has 29 days in this year.
 * @param {number} year
 */
export function isLeap(year) {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/**
 * Days in a month, 28 to 31.
 * @param {number} year @param {number} month
 */
export function monthDays(year, month) {
  const leapDay = month === 2 && isLeap(year) ? 1 : 0;
  return DAYS_BEFORE_MONTH[month] - DAYS_BEFORE_MONTH[month - 1] + leapDay;
}

/**
 * Days from 1970-01-01 to this date, which the caller knows to be real.
 * @param {number} year @param {number} month @param {number} day
 */
export function dayNumber(year, month, day) {
  const past = year - 1;
  // 477 leap days lie before 1970 in this count.
  const leapDays = over(past, 4) - over(past, 100) + over(past, 400) - 477;
  const thisYear = month > 2 && isLeap(year) ? 1 : 0;
  return (year - 1970) * 365 + leapDays + DAYS_BEFORE_MONTH[month - 1] + thisYear + day - 1;
}

/**
 * The year, month and day of the month of a day number.
 * @param {number} day
 * @returns {[number, number, number]}
 */
export function civilDate(day) {
  let year = 1970 + over(day, 366);
  while (dayNumber(year, 1, 1) > day) year -= 1;
  while (dayNumber(year + 1, 1, 1) <= day) year += 1;
  let month = 1;
  while (month < 12 && dayNumber(year, month + 1, 1) <= day) month += 1;
  return [year, month, day - dayNumber(year, month, 1) + 1];
}

/**
 * The day number of `YYYY-MM-DD`; RangeError for any other form or an unreal day.
 * @param {string} text
 */
export function parseDay(text) {
  if (!DAY.test(text)) throw new RangeError("A date is written like 2026-06-01.");
  return dayAtStart(text);
}

/** @param {string} text */
function dayAtStart(text) {
  const [year, month, day] = [numberAt(text, 0, 4), numberAt(text, 5, 7), numberAt(text, 8, 10)];
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    throw new RangeError("A year lies between 1970 and 2199.");
  }
  if (month < 1 || month > 12 || day < 1 || day > monthDays(year, month)) {
    throw new RangeError("There is no such day.");
  }
  return dayNumber(year, month, day);
}

/**
 * A day number as `YYYY-MM-DD`.
 * @param {number} day
 */
export function dayText(day) {
  const [year, month, ofMonth] = civilDate(day);
  return `${digits(year, 4)}-${digits(month, 2)}-${digits(ofMonth, 2)}`;
}

/**
 * The same date some years on; 29 February becomes the 28th where there is none.
 * @param {number} day @param {number} years
 */
export function addYears(day, years) {
  const [year, month, ofMonth] = civilDate(day);
  const longest = monthDays(year + years, month);
  return dayNumber(year + years, month, ofMonth < longest ? ofMonth : longest);
}

/**
 * Read `YYYY-MM-DDTHH:MM:SS±HH:MM`; RangeError for any other form or an unreal time.
 * @param {string} text
 * @returns {Moment}
 */
export function parseMoment(text) {
  if (!MOMENT.test(text)) {
    throw new RangeError("A moment is written like 2026-06-01T07:40:00+02:00.");
  }
  const day = dayAtStart(text);
  const hour = numberAt(text, 11, 13);
  const minute = numberAt(text, 14, 16);
  const second = numberAt(text, 17, 19);
  if (hour > 23 || minute > 59 || second > 59) {
    throw new RangeError("There is no such time of day.");
  }
  const overHour = numberAt(text, 23, 25);
  let offsetMinutes = numberAt(text, 20, 22) * 60 + overHour;
  if (overHour > 59 || offsetMinutes > LONGEST_OFFSET_MINUTES) {
    throw new RangeError("An offset is at most 14:00.");
  }
  if (text[19] === "-") offsetMinutes = 0 - offsetMinutes;
  const local = day * DAY_SECONDS + hour * 3600 + minute * 60 + second;
  return { day, hour, minute, second, instant: local - offsetMinutes * 60 };
}

/**
 * Write an instant in the one form, in local time at this offset from UTC.
 * @param {number} instant @param {number} offsetMinutes
 */
export function momentText(instant, offsetMinutes) {
  const local = instant + offsetMinutes * 60;
  const day = over(local, DAY_SECONDS);
  const rest = local - day * DAY_SECONDS;
  const [hour, minute, second] = [over(rest, 3600), over(rest, 60) % 60, rest % 60];
  const sign = offsetMinutes < 0 ? "-" : "+";
  const away = offsetMinutes < 0 ? 0 - offsetMinutes : offsetMinutes;
  const clock = `${digits(hour, 2)}:${digits(minute, 2)}:${digits(second, 2)}`;
  return `${dayText(day)}T${clock}${sign}${digits(over(away, 60), 2)}:${digits(away % 60, 2)}`;
}
