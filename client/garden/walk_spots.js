// @ts-check
// Hot spots of a walk: one heavy plant among clean ones, or affected plants that stand closer
// together than lots would put them.
import { positionOf, rowOf } from "../log/layout.js";
import { GRADE_FLOORS, isFound, seenIn } from "./walk_reading.js";
import { lots, shuffled } from "./walk_path.js";

/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Message} Message */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Walk} Walk */

/** Fewer plants than this show no pattern that lots could not make. */
const FEWEST_PLANTS = 8;
const RARE = 0.05;
const DEALS = 499;
const HEAVY_FROM = GRADE_FLOORS.some;
const FEWEST_CLEAN = 5;

/**
 * @param {Walk} walk @param {Planting} planting @param {Bed | undefined} bed
 * @returns {Message | undefined}
 */
export function hotSpot(walk, planting, bed) {
  const seen = seenIn(walk);
  const ill = seen.filter(isFound);
  const clean = seen.length - ill.length;
  if (ill.length === 1) {
    const [{ plant, found }] = ill;
    if (Number(found) < HEAVY_FROM || clean < FEWEST_CLEAN) return undefined;
    const row = rowOf(plant, Number(planting.plants), Number(planting.rows) || 1);
    return { key: "heavy", values: { number: plant, row, clean } };
  }
  if (ill.length < 2 || !clean || seen.length < FEWEST_PLANTS) return undefined;
  const at = seen.map(({ plant }) => positionOf(plant, planting, bed ?? {}));
  const flags = seen.map(isFound);
  const chance = chanceOf(at, flags, walk.startedMs);
  const plants = ill.map(({ plant }) => plant).sort((a, b) => a - b);
  const values = { plants, looked: seen.length, affected: ill.length, in_hundred: chance * 100 };
  return { key: chance <= RARE ? "patch" : "by_chance", values };
}

/**
 * In what share of deals the affected plants stand as close to their nearest as they do here, or
 * closer.
 * @param {[number, number][]} at @param {boolean[]} flags @param {number} seed
 */
function chanceOf(at, flags, seed) {
  const draw = lots(seed);
  const here = closeness(at, flags);
  let asClose = 1;
  for (let deal = 0; deal < DEALS; deal += 1)
    if (closeness(at, shuffled(flags, draw)) <= here + 1e-9) asClose += 1;
  return asClose / (DEALS + 1);
}

/**
 * How far an affected plant is from the nearest other one, on average.
 * @param {[number, number][]} at @param {boolean[]} flags
 */
function closeness(at, flags) {
  const ill = at.filter((_, place) => flags[place]);
  let total = 0;
  for (const [x, y] of ill) {
    let least = Infinity;
    for (const [otherX, otherY] of ill) {
      const far = (x - otherX) * (x - otherX) + (y - otherY) * (y - otherY);
      if (far > 0 && far < least) least = far;
    }
    total += Math.sqrt(least);
  }
  return total / ill.length;
}
