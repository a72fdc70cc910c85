// @ts-check
// The lines of a bed's plan: its edges, its rows, the scale, the outlines of plants.
import { svg } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {{x: (metres: number) => number, y: (metres: number) => number}} Place */
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
 * @param {Part} part
 * @param {number} length
 * @param {number} width
 */
export function edges(place, { from, to }, length, width) {
  const [left, right, top, bottom] = [place.x(from), place.x(to), place.y(0), place.y(width)];
  const end = (/** @type {number} */ x, /** @type {boolean} */ isWhole) =>
    isWhole ? `M${x} ${top}V${bottom}` : zigzag(x, top, bottom);
  const sides = `M${left} ${top}H${right}M${left} ${bottom}H${right}`;
  const ends = end(left, from === 0) + end(right, to === length);
  return svg`<path class="plan-bed" d=${sides}></path><path class="plan-bed" d=${ends}></path>`;
}

/** @param {number} x @param {number} top @param {number} bottom */
function zigzag(x, top, bottom) {
  const middle = (top + bottom) / 2;
  return `M${x} ${top}V${middle - 8}l-5 4 10 8-5 4V${bottom}`;
}

/**
 * @param {number[]} heights where rows lie
 * @param {Place} place
 * @param {Part} part
 */
export const rowLines = (heights, place, { from, to }) =>
  [...new Set(heights)].map((height) => {
    const y = place.y(height);
    const [left, right] = [place.x(from) + 4, place.x(to) - 4];
    return svg`<line class="plan-row" x1=${left} x2=${right} y1=${y} y2=${y}></line>`;
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
