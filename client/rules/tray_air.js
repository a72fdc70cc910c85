// @ts-check
/**
 * Whether the air around seedlings was warm enough by night and by day, before they harden.
 * Twin of server/shedbook/rules/tray_air.py.
 */
import { isDeclinedSince } from "./answered.js";
import { DAY_S, eventsInDays } from "./daily.js";
import { finding, reason } from "./finding.js";
import { days, findFor, hasEnded, limit, number } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

const AIR = "air";

/**
 * The cold days among the last that were read beside the tray; nothing without a reading.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function trayAir(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const { today } = context;
  const isRaised = planting.sown_day !== undefined || planting.emerged_day !== undefined;
  if (!isRaised || planting.from_day !== undefined || hasEnded(planting, today)) return [];
  const window = days(context, rule, "window_days");
  const isDeclined = isDeclinedSince(context, rule, AIR, (today - window) * DAY_S);
  if (isDeclined || hardens(context, planting)) return [];
  const proof = eventsInDays(context, "air_temperature", today - window + 1, today)
    .filter((event) => event.planting === planting.id);
  const read = [...byDay(proof).values()];
  const night = limit(context, rule, "night_low_c") ?? 0;
  const day = limit(context, rule, "day_high_c") ?? 0;
  const isColdNight = (/** @type {Read} */ { low }) => low !== null && low < night;
  const isCoolDay = (/** @type {Read} */ { high }) => high !== null && high < day;
  const cold = read.filter((one) => isColdNight(one) || isCoolDay(one));
  if (!cold.length) return [];
  const values = { cold_days: cold.length, read_days: read.length };
  const nights = { cold_nights: read.filter(isColdNight).length, night_low_c: night };
  const why = [
    reason("tray_air.nights", nights),
    reason("tray_air.days", { cool_days: read.filter(isCoolDay).length, day_high_c: day }),
    reason("tray_air.change"),
  ];
  const many = cold.length >= Math.max(limit(context, rule, "flag_days") ?? 0, 1);
  return [finding(context, rule, AIR, many ? "flagged" : "noted", values, why, proof)];
}

/** @typedef {{low: number | null, high: number | null}} Read */

/** The lowest low and the highest high that were read on each day. @param {Event[]} events */
function byDay(events) {
  /** @type {Map<number, Read>} */
  const read = new Map();
  for (const event of events) {
    const known = read.get(event.day) ?? { low: null, high: null };
    const [low, high] = [number(event.details.low_c), number(event.details.high_c)];
    if (known.low === null || (low !== null && low < known.low)) known.low = low;
    if (known.high === null || (high !== null && high > known.high)) known.high = high;
    read.set(event.day, known);
  }
  return read;
}

/**
 * Has the planting begun to be hardened? Then cold is meant.
 * @param {Context} context @param {Planting} planting
 */
const hardens = (context, planting) => findFor(context, { kind: "harden" }, planting).length > 0;
