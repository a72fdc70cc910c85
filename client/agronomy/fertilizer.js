// @ts-check
/**
 * What fertilizer and compost carry, weigh and fill, and the rate of what was spread.
 * Twin of server/shedbook/agronomy/fertilizer.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

const M2_PER_HECTARE = 10_000;
const LARGEST = 1_000_000_000;

/**
 * Mass of a nutrient in a product, from its grade; phosphorus and potassium as oxides.
 * @param {number} productG @param {number} percent
 */
export function nutrientMass(productG, percent) {
  checkSize("product_g", productG);
  checkPercent("percent", percent);
  return productG * percent / 100;
}

/**
 * Mass of a product that carries a wanted mass of a nutrient.
 * @param {number} nutrientG @param {number} percent
 */
export function productMass(nutrientG, percent) {
  checkSize("nutrient_g", nutrientG);
  checkShare("percent", percent);
  return nutrientG * 100 / percent;
}

/**
 * Mass of a poured product.
 * @param {number} volumeMl @param {number} densityGPerMl
 */
export function massOfVolume(volumeMl, densityGPerMl) {
  checkSize("volume_ml", volumeMl);
  checkAbove("density_g_per_ml", densityGPerMl);
  return volumeMl * densityGPerMl;
}

/**
 * Volume that a product fills when it is poured.
 * @param {number} massG @param {number} densityGPerMl
 */
export function volumeOfMass(massG, densityGPerMl) {
  checkSize("mass_g", massG);
  checkAbove("density_g_per_ml", densityGPerMl);
  return massG / densityGPerMl;
}

/**
 * Rate per area of what was spread.
 * @param {number} massG @param {number} areaM2
 */
export function rateOfMass(massG, areaM2) {
  checkSize("mass_g", massG);
  checkAbove("area_m2", areaM2);
  return massG / 1000 / (areaM2 / M2_PER_HECTARE);
}

/**
 * Mass that an area needs for a rate.
 * @param {number} kgPerHa @param {number} areaM2
 */
export function massForRate(kgPerHa, areaM2) {
  checkSize("kg_per_ha", kgPerHa);
  checkSize("area_m2", areaM2);
  return kgPerHa * 1000 * (areaM2 / M2_PER_HECTARE);
}

/**
 * Ground that belongs to one plant of a stand in rows.
 * @param {number} inRowM @param {number} betweenRowsM
 */
export function areaPerPlant(inRowM, betweenRowsM) {
  checkAbove("in_row_m", inRowM);
  checkAbove("between_rows_m", betweenRowsM);
  return inRowM * betweenRowsM;
}

/**
 * Volume of a layer, such as compost: 1 mm on 1 m2 is 1 L.
 * @param {number} areaM2 @param {number} depthMm
 */
export function layerVolume(areaM2, depthMm) {
  checkSize("area_m2", areaM2);
  checkSize("depth_mm", depthMm);
  return areaM2 * depthMm;
}

/**
 * Depth of a layer of a known volume.
 * @param {number} volumeL @param {number} areaM2
 */
export function layerDepth(volumeL, areaM2) {
  checkSize("volume_l", volumeL);
  checkAbove("area_m2", areaM2);
  return volumeL / areaM2;
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

/** @param {string} name @param {number} value */
function checkPercent(name, value) {
  if (!(value >= 0 && value <= 100)) throw new OutOfRange(name, value, "between 0 and 100");
}

/** @param {string} name @param {number} value */
function checkShare(name, value) {
  if (!(value > 0 && value <= 100)) throw new OutOfRange(name, value, "above 0 and at most 100");
}
