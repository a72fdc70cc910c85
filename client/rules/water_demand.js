// @ts-check
/**
 * How thirsty a bed is on a day: its crops by their stage, and the day's reference loss.
 * Twin of server/shedbook/rules/water_demand.py.
 */
import { cropCoefficient, rootDepth } from "../agronomy/crop_stage.js";
import { extraterrestrialRadiation, hargreavesEt0 } from "../agronomy/hargreaves.js";
import { civilDate, dayNumber } from "../log/moment.js";
import { COLDEST_C, WARMEST_C } from "./daily.js";
import { cropFact, number } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./daily.js").Day} Day */
/** @typedef {import("./water_ground.js").Three} Three */
/**
 * What one planting takes: coefficients and days of its stages, full depth of roots, p.
 * @typedef {{from_day: number, kc: Three, stage_days: number[], root_m: number, p: number}} Thirst
 */
/**
 * What all plantings together ask of the soil on a day.
 * @typedef {{kc: number, root_m: number, p: number}} Demand
 */

const SHALLOWEST_M = 0.05;
const DEEPEST_M = 5;

/**
 * The thirst of each planting, and the plantings whose crop nothing is known of.
 * @param {Context} context @param {Planting[]} plantings
 */
export function thirstsOf(context, plantings) {
  const found = [];
  const unknown = [];
  for (const planting of plantings) {
    const thirst = thirstOf(context, planting);
    if (thirst === null) unknown.push(planting);
    else found.push(thirst);
  }
  return { found, unknown };
}

/**
 * The thirstiest crop's coefficient, the shallowest roots and the smallest share p. Nothing here is
 * an average: a bed is watered for the plant in it that needs it first.
 * @param {Thirst[]} thirsts @param {number} day @param {number} startRootM
 * @returns {Demand}
 */
export function demandOn(thirsts, day, startRootM) {
  let [kc, root, p] = [0, DEEPEST_M, 1];
  for (const one of thirsts) {
    const age = day - one.from_day;
    if (age < 0) continue;
    const [ini, mid, end] = one.kc;
    kc = Math.max(kc, cropCoefficient(ini, mid, end, one.stage_days, age));
    const start = Math.min(Math.max(startRootM, SHALLOWEST_M), one.root_m);
    root = Math.min(root, rootDepth(start, one.root_m, one.stage_days, age));
    p = Math.min(p, one.p);
  }
  return { kc, root_m: root, p };
}

/**
 * Hargreaves' loss of the day: dry, middle and wet. A filled temperature may be wrong by `errorC`:
 * lows lower with highs higher dry the soil more.
 * @param {number} latitudeDeg @param {Day} air @param {number} errorC
 * @returns {Three}
 */
export function referenceLoss(latitudeDeg, air, errorC) {
  if (air.how === "missing") return [0, 0, 0];
  const radiation = radiationOn(latitudeDeg, dayOfYear(air.day));
  const middle = hargreavesEt0(air.low_c, air.high_c, radiation);
  if (air.how === "measured") return [middle, middle, middle];
  const farLow = Math.max(air.low_c - errorC, COLDEST_C);
  const farHigh = Math.min(air.high_c + errorC, WARMEST_C);
  const mean = (air.low_c + air.high_c) / 2;
  const nearLow = Math.min(air.low_c + errorC, mean);
  const nearHigh = Math.max(air.high_c - errorC, mean);
  const dry = hargreavesEt0(farLow, farHigh, radiation);
  const wet = hargreavesEt0(nearLow, nearHigh, radiation);
  return [Math.max(dry, middle), middle, Math.min(wet, middle)];
}

/** The same days are asked for bed after bed. @type {Map<number, number>} */
const radiations = new Map();
let radiationsAt = NaN;

/** @param {number} latitudeDeg @param {number} day of the year */
function radiationOn(latitudeDeg, day) {
  if (radiationsAt !== latitudeDeg) radiations.clear();
  radiationsAt = latitudeDeg;
  const known = radiations.get(day) ?? extraterrestrialRadiation(latitudeDeg, day);
  radiations.set(day, known);
  return known;
}

/** @param {number} day */
const dayOfYear = (day) => day - dayNumber(civilDate(day)[0], 1, 1) + 1;

/** @param {Context} context @param {Planting} planting @returns {Thirst | null} */
function thirstOf(context, planting) {
  /** @param {string} name */
  const fact = (name) => cropFact(context, planting.crop, name);
  const kc = ["kc_ini", "kc_mid", "kc_end"].map((name) => within(fact(name), 0.01, 2));
  const stages = fact("stage_days");
  const root = within(fact("root_depth_low_m"), SHALLOWEST_M, DEEPEST_M);
  const p = within(fact("depletion_share"), 0.05, 0.9);
  const lengths = Array.isArray(stages) ? stages.map((one) => within(one, 0, 1000)) : [];
  const knownKc = kc.filter((one) => one !== null);
  const knownLengths = lengths.filter((one) => one !== null);
  if (knownKc.length !== 3 || knownLengths.length !== 4 || root === null || p === null) return null;
  const from = /** @type {number} */ (planting.from_day);
  const [ini, mid, end] = knownKc;
  return { from_day: from, kc: [ini, mid, end], stage_days: knownLengths, root_m: root, p };
}

/** @param {unknown} value @param {number} least @param {number} most */
function within(value, least, most) {
  const size = number(value);
  return size !== null && size >= least && size <= most ? size : null;
}
