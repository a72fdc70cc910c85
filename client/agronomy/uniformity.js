// @ts-check
/**
 * How evenly a watering falls, from catch cans set out in the bed.
 * Twin of server/shedbook/agronomy/uniformity.py, which names the sources.
 */
import { NotEnoughData, OutOfRange } from "./errors.js";

const FEWEST_CANS = 4;

/**
 * Mean of the emptiest quarter of the cans against the mean of all; the quarter is rounded up.
 * @param {number[]} volumes
 */
export function distributionUniformityLowQuarter(volumes) {
  const mean = meanCaught(volumes);
  const quarter = Math.floor((volumes.length + 3) / 4);
  let low = 0;
  for (const volume of [...volumes].sort((a, b) => a - b).slice(0, quarter)) low = low + volume;
  return low / quarter / mean;
}

/**
 * One less the mean deviation against the mean; below 0 where a few cans caught nearly all.
 * @param {number[]} volumes
 */
export function christiansen(volumes) {
  const mean = meanCaught(volumes);
  let deviations = 0;
  for (const volume of volumes) deviations = deviations + Math.abs(volume - mean);
  return 1 - deviations / (volumes.length * mean);
}

/**
 * How much water the cans say falls in an hour, mm.
 * @param {number[]} volumes in mL @param {number} canAreaCm2 @param {number} durationMin
 */
export function depthPerHour(volumes, canAreaCm2, durationMin) {
  const mean = meanCaught(volumes);
  if (!(canAreaCm2 > 0)) throw new OutOfRange("can_area_cm2", canAreaCm2, "above 0");
  if (!(durationMin > 0)) throw new OutOfRange("duration_min", durationMin, "above 0");
  return (((mean / canAreaCm2) * 10) * 60) / durationMin;
}

/** @param {number[]} volumes */
function meanCaught(volumes) {
  if (volumes.length < FEWEST_CANS) {
    throw new NotEnoughData("volumes", volumes.length, "at least four cans");
  }
  let total = 0;
  for (const volume of volumes) {
    if (!(volume >= 0)) throw new OutOfRange("volumes", volume, "0 or more");
    total = total + volume;
  }
  if (total === 0) throw new OutOfRange("volumes", 0, "above 0 in at least one can");
  return total / volumes.length;
}
