// @ts-check
// The edge where the phone's clock and the garden's zone meet; nothing below it reads either.
import { dayNumber } from "./log/moment.js";

/** @type {Map<string, Intl.DateTimeFormat>} */
const formatters = new Map();

/** The zone of this device's own clock. */
export const browserZone = () => new Intl.DateTimeFormat().resolvedOptions().timeZone ?? "UTC";

/** @param {string} zone */
function formatter(zone) {
  const known = formatters.get(zone);
  if (known) return known;
  const options = /** @type {const} */ ({
    calendar: "iso8601", hourCycle: "h23",
    year: "numeric", month: "numeric", day: "numeric",
    hour: "numeric", minute: "numeric", second: "numeric",
  });
  let made;
  try {
    made = new Intl.DateTimeFormat("en", { ...options, timeZone: zone });
  } catch {
    made = new Intl.DateTimeFormat("en", { ...options, timeZone: "UTC" });
  }
  formatters.set(zone, made);
  return made;
}

/**
 * The wall clock of a zone at an epoch millisecond; an unknown zone is read as UTC.
 * @param {string} zone
 * @param {number} ms
 */
export function zoned(zone, ms) {
  const parts = new Map(formatter(zone).formatToParts(ms).map((part) => [part.type, part.value]));
  const of = (/** @type {Intl.DateTimeFormatPartTypes} */ type) => Number(parts.get(type));
  return {
    year: of("year"), month: of("month"), day: of("day"),
    hour: of("hour"), minute: of("minute"), second: of("second"),
  };
}

/** @param {number} value */
export const two = (value) => String(value).padStart(2, "0");

/**
 * The present in the garden's zone: as the text that entries carry, as a day and as an instant.
 * @param {string} zone
 * @param {number} ms
 */
export function presentIn(zone, ms) {
  const at = zoned(zone, ms);
  const day = dayNumber(at.year, at.month, at.day);
  const instant = Math.floor(ms / 1000);
  const wall = day * 86400 + at.hour * 3600 + at.minute * 60 + at.second;
  const date = `${at.year}-${two(at.month)}-${two(at.day)}`;
  const time = `${two(at.hour)}:${two(at.minute)}:${two(at.second)}`;
  return { text: `${date}T${time}${offsetText((wall - instant) / 60)}`, day, instant };
}

/** @param {number} minutes */
function offsetText(minutes) {
  const size = Math.abs(minutes);
  return `${minutes < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
