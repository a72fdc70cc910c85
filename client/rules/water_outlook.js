// @ts-check
/**
 * The next days of a bed with neither rain nor water, each as thirsty as the last seven.
 * Twin of server/shedbook/rules/water_outlook.py.
 */
import { readilyAvailableWater, waterDay } from "../agronomy/soil_water.js";
import { MIDDLE, WEEK_DAYS, demandFor, limitsOf, thirstFor } from "./water_account.js";

/** @typedef {import("./water_account.js").Account} Account */

/**
 * The day on which all will have gone that may go, null if not within seven days.
 * @param {Account} account
 */
export const dayReached = (account) =>
  dryDays(account, WEEK_DAYS).find(({ depletion, mayGo }) => depletion >= mayGo)?.day ?? null;

/**
 * How much will have gone at the end of so many days, today the first of them.
 * @param {Account} account @param {number} days
 */
export const depletionAfter = (account, days) => dryDays(account, days)[days - 1].depletion;

/**
 * Each day with the depletion at its end and what may go.
 * @param {Account} account @param {number} days
 */
function dryDays({ keeper, lines, mean_et0_mm: loss }, days) {
  const { day: today, depletion_mm: now } = lines[lines.length - 1];
  let depletion = now;
  const found = [];
  for (let day = today; day < today + days; day += 1) {
    const demand = demandFor(keeper, day);
    const { taw, p } = limitsOf(keeper, demand, [loss, loss, loss])[MIDDLE];
    const thirst = thirstFor(keeper, demand, loss);
    depletion = waterDay(Math.min(depletion, taw), taw, p, 0, 0, thirst).depletion_mm;
    found.push({ day, depletion, mayGo: readilyAvailableWater(taw, p) });
  }
  return found;
}
