// @ts-check
/**
 * How far a share that was found among a few may be from the share among all.
 * Twin of server/shedbook/agronomy/proportion.py, which names the sources.
 */
import { NotEnoughData, OutOfRange } from "./errors.js";

/** The point of the standard normal curve that leaves 2.5 % above it, for limits of 95 %. */
export const Z_95 = 1.959963984540054;

/**
 * The lower and upper limit of a share, by Wilson's score method without correction.
 * @param {number} affected @param {number} looked @param {number} [z]
 * @returns {{low: number, high: number}}
 */
export function wilsonInterval(affected, looked, z = Z_95) {
  if (!(looked >= 1)) throw new NotEnoughData("looked", looked, "1 or more");
  if (!(affected >= 0 && affected <= looked)) {
    throw new OutOfRange("affected", affected, "between 0 and the number looked at");
  }
  if (!(z > 0 && z <= 6)) throw new OutOfRange("z", z, "above 0 and at most 6");
  const square = z * z;
  const middle = 2 * affected + square;
  const half = z * Math.sqrt(square + 4 * affected * (1 - affected / looked));
  const width = 2 * (looked + square);
  // At the ends the limit is exact; the last bits must not say otherwise.
  const low = affected === 0 ? 0 : (middle - half) / width;
  const high = affected === looked ? 1 : (middle + half) / width;
  return { low, high };
}
