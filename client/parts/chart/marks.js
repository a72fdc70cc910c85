// @ts-check
// Single signs of a chart. Each differs by its form, so that none needs a colour.
import { svg } from "../../vendor/lit-html/lit-html.js";

/** Of a letter's height above the line that it stands on. */
const HALF_LETTER = 4.5;

/** Water given. @param {number} x @param {number} y of its foot @param {number} [tall] */
export const stroke = (x, y, tall = 14) =>
  svg`<line class="chart-stroke" x1=${x} x2=${x} y1=${y} y2=${y - tall}></line>`;

/** Rain. @param {number} x @param {number} y of its lowest point */
export const drop = (x, y) =>
  svg`<path class="chart-rain" d=${`M${x - 4} ${y - 4}a4 4 0 1 0 8 0q0 -3 -4 -8q-4 5 -4 8z`}></path>`;

/** Something whose amount is not known. @param {number} x @param {number} y */
export const ring = (x, y) => svg`<circle class="chart-open" cx=${x} cy=${y} r="4"></circle>`;

/** @param {number} x @param {number} y */
export const dot = (x, y) => svg`<circle class="chart-dot" cx=${x} cy=${y} r="3.5"></circle>`;

/** How far a share can be trusted. @param {number} x @param {number} low @param {number} high */
export const whisker = (x, low, high) =>
  svg`<path class="chart-whisker" d=${`M${x - 4} ${high}h8M${x} ${high}V${low}M${x - 4} ${low}h8`}></path>`;

/** @param {number} x @param {number} y @param {string} words */
export const letter = (x, y, words) =>
  svg`<text class="chart-letter chart-mid" x=${x} y=${y + HALF_LETTER}>${words}</text>`;

/** @param {number} at from 0: A, B, C … Z, AA … */
export const letterOf = (at) =>
  (at >= 26 ? String.fromCharCode(64 + Math.floor(at / 26)) : "") +
  String.fromCharCode(65 + (at % 26));
