// @ts-check
// The lines of a bed's plan: its edges, its rows, the scale, the outlines of plants.
import { svg } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/**
 * @typedef {{at: (x: number, y: number) => [number, number], scale: number, part: Part,
 *   width: number, height: number}} Place where metres along and across lie on the page, of which
 *   this is the size; `scale` is in pixels a metre
 */
/** @typedef {{from: number, to: number}} Part of the bed's length, in metres */

const AROUND_M = 0.5;

/**
 * A long bed with plants in one part of it is drawn where they stand, its ends broken off.
 * @param {number[]} along where plants stand
 * @param {number} length
 * @returns {Part}
 */
export function shownPart(along, length) {
  const first = Math.min(...along) - AROUND_M;
  const last = Math.max(...along) + AROUND_M;
  return {
    from: first > AROUND_M ? first : 0,
    to: last < length - AROUND_M ? last : length,
  };
}

/**
 * The bed's long sides, and its ends: straight, or broken off in a zigzag.
 * @param {Place} place
 * @param {number} length
 * @param {number} width
 */
export function edges({ at, part: { from, to } }, length, width) {
  const line = (/** @type {[number, number]} */ a, /** @type {[number, number]} */ b) => `M${a}L${b}`;
  const end = (/** @type {number} */ x, /** @type {boolean} */ isWhole) =>
    (isWhole ? line : zigzag)(at(x, 0), at(x, width));
  const sides = line(at(from, 0), at(to, 0)) + line(at(from, width), at(to, width));
  const ends = end(from, from === 0) + end(to, to === length);
  return svg`<path class="plan-bed" d=${sides}></path><path class="plan-bed" d=${ends}></path>`;
}

/**
 * A line that breaks in its middle.
 * @param {[number, number]} a @param {[number, number]} b
 */
function zigzag([ax, ay], [bx, by]) {
  const size = Math.hypot(bx - ax, by - ay) || 1;
  const [ux, uy] = [(bx - ax) / size, (by - ay) / size];
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
  const bend = (/** @type {number} */ along, /** @type {number} */ aside) =>
    `L${mx + along * ux - aside * uy} ${my + along * uy + aside * ux}`;
  return `M${ax} ${ay}${bend(-8, 0)}${bend(-4, -5)}${bend(4, 5)}${bend(8, 0)}L${bx} ${by}`;
}

const ROW_INSET = 4;

/**
 * @param {number[]} heights where rows lie
 * @param {Place} place
 */
export const rowLines = (heights, { at, scale, part: { from, to } }) =>
  [...new Set(heights)].map((height) => {
    const inset = ROW_INSET / scale;
    const d = `M${at(from + inset, height)}L${at(to - inset, height)}`;
    return svg`<path class="plan-row" d=${d}></path>`;
  });

/**
 * Each planting of a bed has its own outline: circle, diamond, square, hexagon.
 * @param {number} shape
 * @param {number} r
 */
export function outline(shape, r) {
  const [wide, half, side] = [r * 1.2, r / 2, r * 0.88];
  const paths = [
    `M${-r} 0a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`,
    `M0 ${-wide} ${wide} 0 0 ${wide} ${-wide} 0z`,
    `M${-side} ${-side}h${2 * side}v${2 * side}h${-2 * side}z`,
    `M${-half} ${-r}h${r}l${half} ${r}-${half} ${r}h${-r}l${-half} ${-r}z`,
  ];
  return svg`<path class="plan-shape" d=${paths[shape % paths.length]}></path>`;
}

/**
 * @param {State} state
 * @param {{x: number, y: number}} corner
 * @param {number} scale pixels per metre
 * @param {number} shown metres of the bed
 */
export function scaleBar(state, { x, y }, scale, shown) {
  const metres = shown >= 1 ? 1 : 0.1;
  const words = state.say("screen.plan.scale", { length_m: metres });
  return svg`<path class="plan-scale" d="M${x} ${y - 6}v6h${metres * scale}v-6"></path>
    <text class="plan-words" x=${x + metres * scale + 8} y=${y}>${words}</text>`;
}
