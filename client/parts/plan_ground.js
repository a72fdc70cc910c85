// @ts-check
// A bed as ground to draw on: where its plants stand, and where a place in metres lies on the page.
import { plantsPerRow, positionOf, rowOf } from "../log/layout.js";
import { shownPart } from "./plan_drawing.js";
import { markedAlong } from "./spot_marks.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("./plan_drawing.js").Place} Place */
/** @typedef {{start: number, bed: Bed}} Part */
/**
 * @typedef {{planting: Planting, ordinal: number, row: number, x: number, y: number, live: boolean,
 *   shape: number, name: string, px: number, py: number}} Spot `px`, `py`: on the page
 * @typedef {{spots: Spot[], place: Place, length: number, width: number, radius: number}} Ground
 */

const LEAST_TARGET = 31;
const FULL_WIDTH = 326;
const FULL_HEIGHT = 520;
const LEAST_WIDTH = 150;
export const MARGIN = 14;
const BELOW = 22;

/** The edge that the drawing has at its foot, where nobody has said another. */
const USUAL_EDGE = "last_row";
const UPRIGHT = new Set(["row_start", "row_end"]);

/**
 * What was worked out for a state; a tap on the plan draws again from the same one.
 * @type {WeakMap<State["look"], Map<string, Ground | null>>}
 */
const known = new WeakMap();

/**
 * The ground of a bed with these plantings; null when there is nothing to draw.
 * @param {State} state @param {Bed} bed @param {Planting[]} plantings
 */
export function groundOf(state, bed, plantings) {
  const grounds = known.get(state.look) ?? new Map();
  known.set(state.look, grounds);
  const key = [bed.id, ...plantings.map(({ id }) => id)].join();
  if (!grounds.has(key)) grounds.set(key, made(state, bed, plantings));
  return /** @type {Ground | null} */ (grounds.get(key));
}

/**
 * @param {State} state @param {Bed} bed @param {Planting[]} plantings
 * @returns {Ground | null}
 */
function made(state, bed, plantings) {
  const parts = partsOf(bed, plantings);
  const spots = plantings.flatMap((planting, shape) =>
    spotsOf(state, parts[shape], planting, shape),
  );
  if (!spots.length) return null;
  const length = Number(bed.length_m) || Math.max(...spots.map((spot) => spot.x)) + 0.25;
  const width = Number(bed.width_m) || Math.max(...spots.map((spot) => spot.y)) + 0.25;
  const pitch = pitchOf(spots);
  const along = [...spots.map((spot) => spot.x), ...markedAlong(state, bed)];
  const place = placeIn(String(bed.near_edge ?? USUAL_EDGE), shownPart(along, length), width, pitch);
  for (const spot of spots) [spot.px, spot.py] = place.at(spot.x, spot.y);
  return { spots, place, length, width, radius: Math.min(19, pitch * place.scale * 0.44) };
}

/**
 * The bed turned so that its nearest edge lies at the foot of the drawing.
 * @param {string} edge @param {import("./plan_drawing.js").Part} part @param {number} width
 * @param {number} pitch
 * @returns {Place}
 */
function placeIn(edge, part, width, pitch) {
  const shown = part.to - part.from;
  const isUpright = UPRIGHT.has(edge);
  const wanted = isUpright ? Math.min(FULL_WIDTH / width, FULL_HEIGHT / shown) : FULL_WIDTH / shown;
  const scale = Math.max(wanted, LEAST_TARGET / pitch);
  const [across, down] = isUpright ? [width, shown] : [shown, width];
  const turned = {
    last_row: (/** @type {number} */ x, /** @type {number} */ y) => [x - part.from, y],
    first_row: (/** @type {number} */ x, /** @type {number} */ y) => [part.to - x, width - y],
    row_start: (/** @type {number} */ x, /** @type {number} */ y) => [y, part.to - x],
    row_end: (/** @type {number} */ x, /** @type {number} */ y) => [width - y, x - part.from],
  };
  const turn = turned[/** @type {keyof typeof turned} */ (edge)] ?? turned[USUAL_EDGE];
  return {
    scale,
    part,
    at: (x, y) => {
      const [right, under] = turn(x, y);
      return [MARGIN + right * scale, MARGIN + under * scale];
    },
    width: Math.max(across * scale + 2 * MARGIN, LEAST_WIDTH),
    height: down * scale + 2 * MARGIN + BELOW,
  };
}

/**
 * Where each planting has its place along the bed: one after the other where they fit so, else each
 * over the whole bed.
 * @param {Bed} bed
 * @param {Planting[]} plantings
 * @returns {Part[]}
 */
function partsOf(bed, plantings) {
  const bedLength = Number(bed.length_m) || 0;
  const lengths = plantings.map(
    (planting) =>
      plantsPerRow(Number(planting.plants) || 0, Number(planting.rows) || 1) *
      (Number(planting.in_row_m) || 0),
  );
  const total = lengths.reduce((sum, length) => sum + length, 0);
  if (lengths.length < 2 || lengths.some((length) => !length) || total > bedLength)
    return plantings.map(() => ({ start: 0, bed }));
  let start = (bedLength - total) / 2;
  return lengths.map((length) => {
    const part = { start, bed: { ...bed, length_m: length } };
    start += length;
    return part;
  });
}

/**
 * @param {State} state
 * @param {Part} part
 * @param {Planting} planting
 * @param {number} shape
 * @returns {Spot[]}
 */
function spotsOf(state, part, planting, shape) {
  const live = new Set(state.look.livePlants(planting));
  const count = Number(planting.plants) || 0;
  return Array.from({ length: count }, (_, at) => {
    const ordinal = at + 1;
    const [x, y] = positionOf(ordinal, planting, part.bed);
    const row = rowOf(ordinal, count, Number(planting.rows) || 1);
    const name = state.say("screen.plan.plant", { number: ordinal, row, planting: planting.id });
    const isLive = live.has(ordinal);
    return { planting, ordinal, row, x: part.start + x, y, live: isLive, shape, name, px: 0, py: 0 };
  });
}

/**
 * The least distance between neighbours, so that a finger finds one plant.
 * @param {Spot[]} spots
 */
function pitchOf(spots) {
  let least = Infinity;
  for (let at = 1; at < spots.length; at += 1) {
    const [a, b] = [spots[at - 1], spots[at]];
    if (a.planting === b.planting)
      least = Math.min(least, Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y)));
  }
  return Number.isFinite(least) && least > 0.05 ? least : 0.4;
}
