// @ts-check
// Which plants a scouting walk looks at, and in which order: laps over the whole bed, so that a walk
// that ends early has not only seen the near end of it.

/** @typedef {{ordinal: number, row: number}} Standing */
/** @typedef {{order: number[], lap: number}} Path `lap`: how many make the first lap */

/** The second of four laps goes between those of the first, the others between both. */
const LAPS_IN_TURN = [[0], [0, 1], [0, 2, 1], [0, 2, 1, 3]];
const FEWEST_A_LAP = 5;

/**
 * Numbers from 0 to below 1 that are the same for the same seed.
 * @param {number} seed
 */
export function lots(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * As one walks: along one row, and back along the next.
 * @param {Standing[]} plants
 */
function asWalked(plants) {
  return [...plants].sort((a, b) => {
    if (a.row !== b.row) return a.row - b.row;
    return a.row % 2 ? a.ordinal - b.ordinal : b.ordinal - a.ordinal;
  });
}

/**
 * @param {Standing[]} plants those that stand
 * @param {number} count how many to look at
 * @param {"even" | "random"} how
 * @param {number} seed
 * @returns {Path}
 */
export function pathOver(plants, count, how, seed) {
  const line = asWalked(plants);
  const wanted = Math.min(count, line.length);
  const draw = lots(seed);
  const laps = Math.min(4, Math.max(1, Math.floor(wanted / FEWEST_A_LAP)));
  const places = how === "even" ? evenly(line.length, wanted, draw) : atRandom(line.length, wanted, draw);
  const parts = LAPS_IN_TURN[laps - 1].map((turn, nth) => {
    const lap = places.filter((_, at) => at % laps === turn).sort((a, b) => a - b);
    return nth % 2 ? lap.reverse() : lap;
  });
  return { order: parts.flat().map((place) => line[place].ordinal), lap: parts[0].length };
}

/** @param {number} all @param {number} wanted @param {() => number} draw */
function evenly(all, wanted, draw) {
  const step = all / wanted;
  const start = draw() * step;
  return Array.from({ length: wanted }, (_, at) => Math.floor(start + at * step));
}

/** Without putting back, in no order. @param {number} all @param {number} wanted @param {() => number} draw */
function atRandom(all, wanted, draw) {
  return shuffled(Array.from({ length: all }, (_, at) => at), draw).slice(0, wanted);
}

/**
 * @template T
 * @param {T[]} list @param {() => number} draw
 */
export function shuffled(list, draw) {
  const dealt = [...list];
  for (let at = dealt.length - 1; at > 0; at -= 1) {
    const other = Math.floor(draw() * (at + 1));
    [dealt[at], dealt[other]] = [dealt[other], dealt[at]];
  }
  return dealt;
}
