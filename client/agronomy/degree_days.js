// @ts-check
/**
 * Degree days of one day from its lowest and highest temperature, all in degrees Celsius.
 * Twin of server/shedbook/agronomy/degree_days.py, which names the sources.
 */
import { PI, asin, cos } from "./elementary.js";
import { OutOfRange } from "./errors.js";

/**
 * How far the day's mean lies above the lower threshold.
 * @param {number} lowC @param {number} highC @param {number} lowerC
 */
export function average(lowC, highC, lowerC) {
  checkDay(lowC, highC, lowerC, null);
  const above = (lowC + highC) / 2 - lowerC;
  return above > 0 ? above : 0;
}

/**
 * The average after both readings are brought between the thresholds.
 * @param {number} lowC @param {number} highC @param {number} lowerC
 * @param {number | null} [upperC] null for no limit
 */
export function modifiedAverage(lowC, highC, lowerC, upperC = null) {
  checkDay(lowC, highC, lowerC, upperC);
  let low = Math.max(lowC, lowerC);
  let high = Math.max(highC, lowerC);
  if (upperC !== null) {
    low = Math.min(low, upperC);
    high = Math.min(high, upperC);
  }
  return (low + high) / 2 - lowerC;
}

/**
 * The area between the thresholds under one sine wave through the day's low and high; above the
 * upper threshold development goes on at the threshold's speed (horizontal cutoff).
 * @param {number} lowC @param {number} highC @param {number} lowerC
 * @param {number | null} [upperC] null for no limit
 */
export function singleSine(lowC, highC, lowerC, upperC = null) {
  checkDay(lowC, highC, lowerC, upperC);
  let total = sineAbove(lowC, highC, lowerC);
  if (upperC !== null) total = total - sineAbove(lowC, highC, upperC);
  return total > 0 ? total : 0;
}

/**
 * The area over one threshold under a full day's sine wave.
 * @param {number} lowC @param {number} highC @param {number} thresholdC
 */
export function sineAbove(lowC, highC, thresholdC) {
  const mean = (lowC + highC) / 2;
  if (thresholdC >= highC) return 0;
  if (thresholdC <= lowC) return mean - thresholdC;
  const swing = (highC - lowC) / 2;
  // Rounding may carry the ratio a hair past one where low and high all but touch.
  const ratio = Math.max(-1, Math.min(1, (thresholdC - mean) / swing));
  const angle = asin(ratio);
  return ((mean - thresholdC) * (PI / 2 - angle) + swing * cos(angle)) / PI;
}

/**
 * Refuse a day or thresholds that no method here can count with.
 * @param {number} lowC @param {number} highC @param {number} lowerC @param {number | null} upperC
 */
export function checkDay(lowC, highC, lowerC, upperC) {
  if (!(lowC >= -60 && lowC <= 60)) throw new OutOfRange("low_c", lowC, "between -60 and 60");
  if (!(lowC <= highC && highC <= 60)) {
    throw new OutOfRange("high_c", highC, "between low_c and 60");
  }
  if (!(lowerC >= -60 && lowerC <= 60)) {
    throw new OutOfRange("lower_c", lowerC, "between -60 and 60");
  }
  if (upperC !== null && !(lowerC < upperC && upperC <= 60)) {
    throw new OutOfRange("upper_c", upperC, "above lower_c and at most 60");
  }
}
