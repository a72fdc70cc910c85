// @ts-check
/**
 * Days from sowing until seedlings are up, by a table of soil temperatures. In such a table a 0
 * says that no seedling came up at that temperature, and a -1 that it was not tried.
 * Twin of server/shedbook/agronomy/emergence.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

const NONE_CAME_UP = 0;
const NOT_TRIED = -1;

/**
 * Days until seedlings are up at a steady soil temperature, on a straight line between rows.
 * @param {number[]} tempsC rising @param {number[]} days @param {number} soilC
 */
export function daysToEmergence(tempsC, days, soilC) {
  return betweenRows(tempsC, days, soilC, NONE_CAME_UP);
}

/**
 * How much of the way to emergence one day at this soil temperature goes.
 * @param {number[]} tempsC rising @param {number[]} days @param {number} soilC
 */
export function dailyShare(tempsC, days, soilC) {
  return 1 / daysToEmergence(tempsC, days, soilC);
}

/**
 * Share of sound seed that grows into a normal seedling, on a straight line between rows.
 * @param {number[]} tempsC rising @param {number[]} shares @param {number} soilC
 */
export function normalShare(tempsC, shares, soilC) {
  return betweenRows(tempsC, shares, soilC, NOT_TRIED);
}

/**
 * The row's value, or the one on the line between two rows; values up to noValue are none.
 * @param {number[]} tempsC @param {number[]} values @param {number} soilC @param {number} noValue
 */
function betweenRows(tempsC, values, soilC, noValue) {
  for (const [i, tempC] of tempsC.entries()) {
    if (soilC === tempC && values[i] > noValue) return values[i];
    const both = i > 0 && values[i - 1] > noValue && values[i] > noValue;
    if (both && tempsC[i - 1] < soilC && soilC < tempC) {
      const share = (soilC - tempsC[i - 1]) / (tempC - tempsC[i - 1]);
      return values[i - 1] + share * (values[i] - values[i - 1]);
    }
  }
  throw new OutOfRange("soil_c", soilC, "in the part of the table that has numbers");
}
