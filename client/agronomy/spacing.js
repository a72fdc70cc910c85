// @ts-check
/**
 * How many plants fit a bed in rows, and a container.
 * Twin of server/shedbook/agronomy/spacing.py, which names the sources.
 */
import { OutOfRange } from "./errors.js";

const PATTERNS = ["square", "staggered"];
// Two lengths that should be equal may differ in the last bits.
const SLACK = 1e-9;
// How many circles fit in one this many times as wide, for 1 to 7 circles.
const WIDTHS_FOR_CIRCLES = [
  1, 2, 2.1547005383792515, 2.414213562373095, 2.7013016167040798, 3, 3,
];

/**
 * Rows along the bed: how many, the plants of each in order, and of all.
 * @typedef {{rows: number, per_row: number[], plants: number}} BedPlan
 */

/**
 * Plants in rows along the length, none nearer to an edge than the margin; in a staggered bed
 * every second row begins half a step later.
 * @param {number} lengthM @param {number} widthM @param {number} inRowM
 * @param {number} betweenRowsM @param {number} edgeM @param {string} pattern
 * @returns {BedPlan}
 */
export function plantsInBed(lengthM, widthM, inRowM, betweenRowsM, edgeM, pattern) {
  check(lengthM, widthM, inRowM, betweenRowsM, edgeM, pattern);
  const rows = fit(widthM - 2 * edgeM, betweenRowsM);
  const full = fit(lengthM - 2 * edgeM, inRowM);
  const shifted = fit(lengthM - 2 * edgeM - inRowM / 2, inRowM);
  /** @type {number[]} */
  const perRow = [];
  let plants = 0;
  if (full > 0) {
    for (let row = 0; row < rows; row += 1) {
      const isShifted = pattern === "staggered" && row % 2 === 1;
      perRow.push(isShifted ? shifted : full);
      plants = plants + perRow[row];
    }
  }
  return { rows: perRow.length, per_row: perRow, plants };
}

/**
 * Plants with a round of ground each that fit a round container.
 * @param {number} acrossM at most three times roomM @param {number} roomM
 */
export function plantsPerContainer(acrossM, roomM) {
  if (!(roomM > 0)) throw new OutOfRange("room_m", roomM, "above 0");
  if (!(acrossM > 0 && acrossM <= 3 * roomM + SLACK)) {
    throw new OutOfRange("across_m", acrossM, "above 0 and at most three times room_m");
  }
  let plants = 0;
  for (const width of WIDTHS_FOR_CIRCLES) {
    if (acrossM / roomM + SLACK >= width) plants = plants + 1;
  }
  return plants;
}

/**
 * Plants on a line of this length, one at each end where the steps come out even.
 * @param {number} spanM @param {number} stepM
 */
function fit(spanM, stepM) {
  if (spanM < -SLACK) return 0;
  return Math.floor(Math.max(0, spanM) / stepM + SLACK) + 1;
}

/**
 * @param {number} lengthM @param {number} widthM @param {number} inRowM
 * @param {number} betweenRowsM @param {number} edgeM @param {string} pattern
 */
function check(lengthM, widthM, inRowM, betweenRowsM, edgeM, pattern) {
  /** @type {[string, number][]} */
  const sides = [["length_m", lengthM], ["width_m", widthM]];
  for (const [name, side] of sides) {
    if (!(side > 0 && side <= 1000)) throw new OutOfRange(name, side, "above 0 and at most 1000");
  }
  /** @type {[string, number][]} */
  const steps = [["in_row_m", inRowM], ["between_rows_m", betweenRowsM]];
  for (const [name, step] of steps) {
    if (!(step >= 0.01 && step <= 100)) throw new OutOfRange(name, step, "between 0.01 and 100");
  }
  if (!(edgeM >= 0)) throw new OutOfRange("edge_m", edgeM, "0 or more");
  if (!PATTERNS.includes(pattern)) throw new OutOfRange("pattern", null, "square or staggered");
}
