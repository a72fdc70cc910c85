// @ts-check
/**
 * Depths, litres and minutes of water: one millimetre on a square metre is one litre.
 * Twin of server/shedbook/agronomy/watering.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

/** How deep this much water stands, mm. @param {number} volumeL @param {number} areaM2 */
export function depthOfVolume(volumeL, areaM2) {
  check(volumeL, "volume_l", areaM2, "area_m2");
  return volumeL / areaM2;
}

/** Water that stands this deep, litres. @param {number} depthMm @param {number} areaM2 */
export function volumeOfDepth(depthMm, areaM2) {
  check(depthMm, "depth_mm", areaM2, "area_m2");
  return depthMm * areaM2;
}

/**
 * Litres that fill the root zone again where it is wetted, and drain nothing.
 * @param {number} depletionMm of the ground that is wetted
 * @param {number} areaM2 the whole bed @param {number} wettedShare of the bed
 */
export function litresToRefill(depletionMm, areaM2, wettedShare) {
  if (!(wettedShare > 0 && wettedShare <= 1)) {
    throw new OutOfRange("wetted_share", wettedShare, "above 0 and at most 1");
  }
  return volumeOfDepth(depletionMm, areaM2) * wettedShare;
}

/** How long the water has to run. @param {number} volumeL @param {number} flowLPerMin */
export function minutesToGive(volumeL, flowLPerMin) {
  check(volumeL, "volume_l", flowLPerMin, "flow_l_per_min");
  return volumeL / flowLPerMin;
}

/** Litres that ran in this time. @param {number} durationMin @param {number} flowLPerMin */
export function volumeGiven(durationMin, flowLPerMin) {
  check(durationMin, "duration_min", flowLPerMin, "flow_l_per_min");
  return durationMin * flowLPerMin;
}

/**
 * @param {number} amount @param {string} amountName @param {number} per @param {string} perName
 */
function check(amount, amountName, per, perName) {
  if (!(amount >= 0)) throw new OutOfRange(amountName, amount, "0 or more");
  if (!(per > 0)) throw new OutOfRange(perName, per, "above 0");
}
