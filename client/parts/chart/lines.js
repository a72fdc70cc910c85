// @ts-check
// Lines, steps, bands and limits. Where a value is not known, the line is broken.
import { svg } from "../../vendor/lit-html/lit-html.js";

/** @typedef {import("./plot.js").Plot} Plot */
/** @typedef {{day: number, value: number | null}} Point */

/**
 * A path through the known points; a point alone between gaps is drawn as a short stroke.
 * @param {Plot} plot @param {readonly Point[]} points
 */
export function pathOf({ x, y }, points) {
  let isOpen = false;
  let path = "";
  points.forEach(({ day, value }, at) => {
    if (value !== null) {
      const isAlone = !isOpen && (points[at + 1]?.value ?? null) === null;
      path += `${isOpen ? "L" : "M"}${x(day)} ${y(value)}${isAlone ? "h1.5" : ""}`;
    }
    isOpen = value !== null;
  });
  return path;
}

/** @param {Plot} plot @param {readonly Point[]} points @param {string} look a class */
export const line = (plot, points, look) =>
  svg`<path class="chart-curve ${look}" d=${pathOf(plot, points)}></path>`;

/**
 * A total that stays until the next day adds to it, from nothing up to the last day.
 * @param {Plot} plot @param {readonly {day: number, value: number}[]} points @param {number} until
 * @param {string} look
 */
export function steps({ x, y }, points, until, look) {
  if (!points.length) return "";
  const path = points.map(({ day, value }) => `H${x(day)}V${y(value)}`).join("");
  const start = `M${x(points[0].day)} ${y(0)}`;
  return svg`<path class="chart-curve ${look}" d=${`${start}${path}H${x(until)}`}></path>`;
}

/**
 * Between a lower and an upper value, day by day.
 * @param {Plot} plot @param {readonly {day: number, low: number, high: number}[]} points
 */
export function band({ x, y }, points) {
  const there = points.map(({ day, high }) => `${x(day)} ${y(high)}`);
  const back = [...points].reverse().map(({ day, low }) => `${x(day)} ${y(low)}`);
  return svg`<path class="chart-band" d=${`M${[...there, ...back].join("L")}Z`}></path>`;
}

/** A range over the whole width. @param {Plot} plot @param {number} low @param {number} high @param {string} fill */
export const range = ({ left, right, y }, low, high, fill) => {
  const [top, bottom] = [Math.min(y(low), y(high)), Math.max(y(low), y(high))];
  return svg`<rect class="chart-range" fill=${fill} x=${left} y=${top} width=${right - left} height=${bottom - top}></rect>`;
};

/** A limit over the whole width. @param {Plot} plot @param {number} value */
export const limitLine = ({ left, right, y }, value) =>
  svg`<line class="chart-limit" x1=${left} x2=${right} y1=${y(value)} y2=${y(value)}></line>`;
