// @ts-check
/**
 * Rates and kitchen measures of the United States, converted exactly.
 * Twin of server/shedbook/agronomy/customary.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

// All exact: the pound and the foot by their definitions of 1959, a gallon is 231 cubic inches.
const GRAMS_PER_POUND = 453.59237;
const M2_PER_FT2 = 0.09290304;
const M2_PER_ACRE = 4046.8564224;
const M2_PER_HECTARE = 10_000;
const ML_PER_CUP = 236.5882365;
const ML_PER_TABLESPOON = 14.78676478125;
const LARGEST = 1_000_000_000;

/**
 * Bulk density from a published weight of so many cups.
 * @param {number} pounds @param {number} cups
 */
export function bulkDensity(pounds, cups) {
  checkAbove("pounds", pounds);
  checkAbove("cups", cups);
  return pounds * GRAMS_PER_POUND / (cups * ML_PER_CUP);
}

/**
 * Pounds per acre as a rate in SI.
 * @param {number} lbPerAcre
 */
export function rateFromLbPerAcre(lbPerAcre) {
  checkSize("lb_per_acre", lbPerAcre);
  return lbPerAcre * GRAMS_PER_POUND / 1000 / (M2_PER_ACRE / M2_PER_HECTARE);
}

/**
 * A rate in pounds per acre.
 * @param {number} kgPerHa
 */
export function lbPerAcre(kgPerHa) {
  checkSize("kg_per_ha", kgPerHa);
  return kgPerHa * (M2_PER_ACRE / M2_PER_HECTARE) * 1000 / GRAMS_PER_POUND;
}

/**
 * Pounds per 1,000 square feet as a rate in SI.
 * @param {number} lbPer1000Ft2
 */
export function rateFromLbPer1000Ft2(lbPer1000Ft2) {
  checkSize("lb_per_1000_ft2", lbPer1000Ft2);
  return lbPer1000Ft2 * GRAMS_PER_POUND / 1000 / (1000 * M2_PER_FT2 / M2_PER_HECTARE);
}

/**
 * A rate in pounds per 1,000 square feet.
 * @param {number} kgPerHa
 */
export function lbPer1000Ft2(kgPerHa) {
  checkSize("kg_per_ha", kgPerHa);
  return kgPerHa * (1000 * M2_PER_FT2 / M2_PER_HECTARE) * 1000 / GRAMS_PER_POUND;
}

/**
 * Plants on an acre.
 * @param {number} areaPerPlantM2
 */
export function plantsPerAcre(areaPerPlantM2) {
  checkAbove("area_per_plant_m2", areaPerPlantM2);
  return M2_PER_ACRE / areaPerPlantM2;
}

/**
 * A volume in US cups.
 * @param {number} volumeMl
 */
export function cupsOfVolume(volumeMl) {
  checkSize("volume_ml", volumeMl);
  return volumeMl / ML_PER_CUP;
}

/**
 * US cups as a volume.
 * @param {number} cups
 */
export function volumeOfCups(cups) {
  checkSize("cups", cups);
  return cups * ML_PER_CUP;
}

/**
 * A volume in US tablespoons.
 * @param {number} volumeMl
 */
export function tablespoonsOfVolume(volumeMl) {
  checkSize("volume_ml", volumeMl);
  return volumeMl / ML_PER_TABLESPOON;
}

/**
 * US tablespoons as a volume.
 * @param {number} tablespoons
 */
export function volumeOfTablespoons(tablespoons) {
  checkSize("tablespoons", tablespoons);
  return tablespoons * ML_PER_TABLESPOON;
}

/** @param {string} name @param {number} value */
function checkSize(name, value) {
  if (!(value >= 0 && value <= LARGEST)) {
    throw new OutOfRange(name, value, "between 0 and a billion");
  }
}

/** @param {string} name @param {number} value */
function checkAbove(name, value) {
  if (!(value > 0 && value <= LARGEST)) {
    throw new OutOfRange(name, value, "above 0 and at most a billion");
  }
}
