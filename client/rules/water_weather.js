// @ts-check
/**
 * The weather that a water account is kept from, and what of it is not known.
 * Twin of server/shedbook/rules/water_weather.py.
 */
import { dailyAir, dailyRain } from "./daily.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./daily.js").Day} Day */
/**
 * @typedef {{first: number, air: Day[], rain: (number | null)[], lastMissing: number | null}}
 *   Weather
 */

/**
 * Air and rain from a first day to yesterday, and the rain of today so far.
 * @param {Context} context @param {number} first
 * @returns {Weather}
 */
export function weatherFrom(context, first) {
  const air = dailyAir(context, null, first, context.today - 1);
  const rain = dailyRain(context, first, context.today);
  let lastMissing = null;
  for (let at = 0; at < air.length; at += 1) {
    if (air[at].how === "missing" || rain[at] === null) lastMissing = air[at].day;
  }
  return { first, air, rain, lastMissing };
}

/**
 * What is not known of yesterday, and the first of the days in a row without it.
 * @param {Weather} weather
 * @returns {[string, number]}
 */
export function gapOf({ first, air, rain }) {
  let at = air.length - 1;
  const isAir = air[at].how === "missing";
  while (at > 0 && (isAir ? air[at - 1].how === "missing" : rain[at - 1] === null)) at -= 1;
  return [isAir ? "temperature" : "rain", first + at];
}
