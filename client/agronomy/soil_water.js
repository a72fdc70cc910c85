// @ts-check
/**
 * The daily account of the water that roots can reach; `depletion` is how much of the water that
 * the soil holds at field capacity has gone.
 * Twin of server/shedbook/agronomy/soil_water.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

/**
 * What one day did to the root zone: its end, and what the plants took and the ground lost.
 * @typedef {{depletion_mm: number, ks: number, etc_adjusted_mm: number, drainage_mm: number}}
 *   WaterDay
 */

/**
 * Water between field capacity and the wilting point in the depth of the roots, mm.
 * @param {number} fieldCapacityShare @param {number} wiltingPointShare @param {number} rootDepthM
 */
export function totalAvailableWater(fieldCapacityShare, wiltingPointShare, rootDepthM) {
  if (!(fieldCapacityShare > 0 && fieldCapacityShare <= 1)) {
    throw new OutOfRange("field_capacity_share", fieldCapacityShare, "above 0 and at most 1");
  }
  if (!(wiltingPointShare >= 0 && wiltingPointShare < fieldCapacityShare)) {
    throw new OutOfRange(
      "wilting_point_share", wiltingPointShare, "0 or more and below field capacity",
    );
  }
  if (!(rootDepthM > 0 && rootDepthM <= 5)) {
    throw new OutOfRange("root_depth_m", rootDepthM, "above 0 and at most 5");
  }
  return 1000 * (fieldCapacityShare - wiltingPointShare) * rootDepthM;
}

/**
 * Share of the available water that can go before growth slows, on a day of this thirst.
 * @param {number} pTable the crop's share at 5 mm a day @param {number} etcMm
 */
export function depletionFraction(pTable, etcMm) {
  if (!(pTable >= 0 && pTable <= 1)) throw new OutOfRange("p_table", pTable, "between 0 and 1");
  if (!(etcMm >= 0 && etcMm <= 50)) throw new OutOfRange("etc_mm", etcMm, "between 0 and 50");
  return Math.max(0.1, Math.min(0.8, pTable + 0.04 * (5 - etcMm)));
}

/**
 * Water that roots take up without growth slowing, mm.
 * @param {number} tawMm @param {number} p
 */
export function readilyAvailableWater(tawMm, p) {
  if (!(tawMm > 0)) throw new OutOfRange("taw_mm", tawMm, "above 0");
  if (!(p >= 0 && p < 1)) throw new OutOfRange("p", p, "0 or more and below 1");
  return p * tawMm;
}

/**
 * Share of its full uptake that a crop reaches at this depletion.
 * @param {number} depletionMm @param {number} tawMm @param {number} p
 */
export function stressCoefficient(depletionMm, tawMm, p) {
  const readilyMm = readilyAvailableWater(tawMm, p);
  if (!(depletionMm >= 0 && depletionMm <= tawMm)) {
    throw new OutOfRange("depletion_mm", depletionMm, "between 0 and the total available water");
  }
  if (depletionMm <= readilyMm) return 1;
  return (tawMm - depletionMm) / (tawMm - readilyMm);
}

/**
 * The account of one day; its stress follows from the depletion that the day before left. Plants
 * never take more than there is, so what came in, less what went out, is what changed.
 * @param {number} depletionMm at the end of the day before
 * @param {number} tawMm @param {number} p @param {number} rainMm @param {number} irrigationMm
 * @param {number} etcPotentialMm @returns {WaterDay}
 */
export function waterDay(depletionMm, tawMm, p, rainMm, irrigationMm, etcPotentialMm) {
  const ks = stressCoefficient(depletionMm, tawMm, p);
  atLeastZero("rain_mm", rainMm);
  atLeastZero("irrigation_mm", irrigationMm);
  atLeastZero("etc_potential_mm", etcPotentialMm);
  const incomingMm = rainMm + irrigationMm;
  const takenMm = ks * etcPotentialMm;
  const endMm = depletionMm - incomingMm + takenMm;
  if (endMm > tawMm) return dayOf(tawMm, ks, tawMm - depletionMm + incomingMm, 0);
  if (endMm < 0) return dayOf(0, ks, takenMm, -endMm);
  return dayOf(endMm, ks, takenMm, 0);
}

/**
 * Rain that counts: less than a fifth of the day's reference loss dries off unused.
 * @param {number} rainMm @param {number} et0Mm
 */
export function effectiveRain(rainMm, et0Mm) {
  atLeastZero("rain_mm", rainMm);
  atLeastZero("et0_mm", et0Mm);
  return rainMm >= 0.2 * et0Mm ? rainMm : 0;
}

/**
 * Water that plants can take from a full container of potting mix, litres.
 * @param {number} volumeL @param {number} availableShare
 */
export function containerAvailableWater(volumeL, availableShare) {
  if (!(volumeL > 0)) throw new OutOfRange("volume_l", volumeL, "above 0");
  if (!(availableShare > 0 && availableShare <= 1)) {
    throw new OutOfRange("available_share", availableShare, "above 0 and at most 1");
  }
  return volumeL * availableShare;
}

/**
 * @param {number} depletion @param {number} ks @param {number} taken @param {number} drainage
 * @returns {WaterDay}
 */
function dayOf(depletion, ks, taken, drainage) {
  return { depletion_mm: depletion, ks, etc_adjusted_mm: taken, drainage_mm: drainage };
}

/** @param {string} name @param {number} value */
function atLeastZero(name, value) {
  if (!(value >= 0)) throw new OutOfRange(name, value, "0 or more");
}
