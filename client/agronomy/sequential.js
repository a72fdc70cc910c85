// @ts-check
/**
 * Looking at one plant after another, and stopping as soon as the answer is plain: Wald's plan.
 * Twin of server/shedbook/agronomy/sequential.py, which names the sources.
 */
import { ln } from "./elementary.js";
import { NotEnoughData, OutOfRange } from "./errors.js";

/** Affected plants at which one may stop: `slope` times plants looked at, plus a constant.
 * @typedef {{slope: number, low: number, high: number}} StopLines */

/**
 * The two stop lines between a share that is borne and one that is not.
 * @param {number} p0 @param {number} p1 @param {number} alpha @param {number} beta
 * @returns {StopLines}
 */
export function waldLines(p0, p1, alpha, beta) {
  if (!(p0 > 0 && p0 < 1)) throw new OutOfRange("p0", p0, "between 0 and 1");
  if (!(p1 > p0 && p1 < 1)) throw new OutOfRange("p1", p1, "above p0 and below 1");
  if (!(alpha > 0 && alpha < 0.5)) throw new OutOfRange("alpha", alpha, "between 0 and 0.5");
  if (!(beta > 0 && beta < 0.5)) throw new OutOfRange("beta", beta, "between 0 and 0.5");
  const odds = ln((p1 * (1 - p0)) / (p0 * (1 - p1)));
  return {
    slope: ln((1 - p0) / (1 - p1)) / odds,
    low: ln(beta / (1 - alpha)) / odds,
    high: ln((1 - beta) / alpha) / odds,
  };
}

/**
 * The stop lines about a threshold, with a band on both sides where either answer will do.
 * @param {number} threshold @param {number} band @param {number} alpha @param {number} beta
 */
export function linesAbout(threshold, band, alpha, beta) {
  if (!(threshold > 0 && threshold < 1)) {
    throw new OutOfRange("threshold", threshold, "between 0 and 1");
  }
  if (!(band > 0 && band < 1)) throw new OutOfRange("band", band, "between 0 and 1");
  const half = band * (threshold < 0.5 ? threshold : 1 - threshold);
  return waldLines(threshold - half, threshold + half, alpha, beta);
}

/**
 * Whether the share is above or below the threshold, or not decided yet.
 * @param {number} affected @param {number} looked @param {number} threshold
 * @param {StopLines} lines @param {number} mostLooked
 * @returns {"above" | "below" | "not_decided"}
 */
export function decision(affected, looked, threshold, lines, mostLooked) {
  if (!(looked >= 1)) throw new NotEnoughData("looked", looked, "1 or more");
  if (!(affected >= 0 && affected <= looked)) {
    throw new OutOfRange("affected", affected, "between 0 and the number looked at");
  }
  if (looked >= mostLooked) return affected / looked >= threshold ? "above" : "below";
  if (affected >= lines.slope * looked + lines.high) return "above";
  if (affected <= lines.slope * looked + lines.low) return "below";
  return "not_decided";
}

/**
 * How many more plants without a find would bring the count to the lower line.
 * @param {number} affected @param {number} looked @param {StopLines} lines
 */
export function cleanUntilBelow(affected, looked, lines) {
  if (!(affected >= 0)) throw new OutOfRange("affected", affected, "0 or more");
  if (!(looked >= 0)) throw new OutOfRange("looked", looked, "0 or more");
  const wanted = -Math.floor((lines.low - affected) / lines.slope);
  return Math.max(wanted - Math.floor(looked), 0);
}
