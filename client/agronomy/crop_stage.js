// @ts-check
/**
 * How a crop's thirst and the depth of its roots change from planting to the last pick. Four
 * stages, in days: first growth, development, full growth, late season.
 * Twin of server/shedbook/agronomy/crop_stage.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

/** @typedef {"initial" | "development" | "mid" | "late"} Stage */

/** @type {Stage[]} */
const STAGES = ["initial", "development", "mid", "late"];

/**
 * Which of the four stages a crop is in; past their last day it stays in the late one.
 * @param {number[]} stageDays @param {number} daysSincePlanting
 */
export function stageOf(stageDays, daysSincePlanting) {
  check(stageDays, daysSincePlanting);
  let end = 0;
  for (let i = 0; i < 3; i += 1) {
    end = end + stageDays[i];
    if (daysSincePlanting < end) return STAGES[i];
  }
  return STAGES[3];
}

/**
 * The crop's thirst against the reference grass, on a line between the stages' values. Past the
 * last day the value of the end stands: many gardens pick on for weeks.
 * @param {number} kcIni @param {number} kcMid @param {number} kcEnd
 * @param {number[]} stageDays @param {number} daysSincePlanting
 */
export function cropCoefficient(kcIni, kcMid, kcEnd, stageDays, daysSincePlanting) {
  /** @type {[string, number][]} */
  const coefficients = [["kc_ini", kcIni], ["kc_mid", kcMid], ["kc_end", kcEnd]];
  for (const [name, kc] of coefficients) {
    if (!(kc >= 0 && kc <= 2)) throw new OutOfRange(name, kc, "between 0 and 2");
  }
  check(stageDays, daysSincePlanting);
  const [initial, development, mid, late] = stageDays;
  if (daysSincePlanting < initial + development) {
    return grown(kcIni, kcMid, development, daysSincePlanting - initial);
  }
  return grown(kcMid, kcEnd, late, daysSincePlanting - initial - development - mid);
}

/**
 * Depth of the roots, m: it grows with the crop's thirst, and is full when that is.
 * @param {number} startM @param {number} fullM
 * @param {number[]} stageDays @param {number} daysSincePlanting
 */
export function rootDepth(startM, fullM, stageDays, daysSincePlanting) {
  if (!(fullM > 0 && fullM <= 5)) throw new OutOfRange("full_m", fullM, "above 0 and at most 5");
  if (!(startM > 0 && startM <= fullM)) {
    throw new OutOfRange("start_m", startM, "above 0 and at most the full depth");
  }
  check(stageDays, daysSincePlanting);
  return grown(startM, fullM, stageDays[1], daysSincePlanting - stageDays[0]);
}

/**
 * The value on a line that rises or falls over `length` days, level before and after.
 * @param {number} before @param {number} after @param {number} length @param {number} day
 */
function grown(before, after, length, day) {
  if (day < 0) return before;
  if (day >= length) return after;
  return before + (day / length) * (after - before);
}

/** @param {number[]} stageDays @param {number} daysSincePlanting */
function check(stageDays, daysSincePlanting) {
  if (stageDays.length !== 4) throw new OutOfRange("stage_days", stageDays.length, "four stages");
  for (const days of stageDays) {
    if (!(days >= 0)) throw new OutOfRange("stage_days", days, "0 or more");
  }
  if (!(daysSincePlanting >= 0)) {
    throw new OutOfRange("days_since_planting", daysSincePlanting, "0 or more");
  }
}
