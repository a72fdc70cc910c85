// @ts-check
// How a layer marks a plant: a dot whose size grows with what is told, and under it a figure or a
// letter. What is not known has neither.
import { nothing, svg } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("./plan_ground.js").Spot} Spot */
/**
 * @typedef {{level: number, figure: string, words: string, isPlain?: boolean}} Mark `level`: 0
 *   (nothing) to 4; a plain one is a figure alone
 */
/** @typedef {(spot: Pick<Spot, "planting" | "ordinal">) => Mark | undefined} MarkOf */

export const MOST_LEVEL = 4;
const SMALLEST = 0.1;
const LARGEST = 0.42;

/**
 * How large a figure is among five sizes, by the least of each size above nothing.
 * @param {number} figure @param {readonly number[]} steps
 */
export const levelOf = (figure, steps) =>
  Math.min(MOST_LEVEL, steps.filter((step) => figure >= step).length);

/** @param {Mark | undefined} mark @param {number} radius */
export function drawMark(mark, radius) {
  if (!mark) return nothing;
  if (mark.isPlain) return svg`<text y="5" aria-hidden="true">${mark.figure}</text>`;
  const share = SMALLEST + ((LARGEST - SMALLEST) * mark.level) / MOST_LEVEL;
  const size = radius * share;
  const look = mark.level ? "plan-dot" : "plan-dot plan-dot-open";
  return svg`<circle class=${look} cy=${-radius * 0.38} r=${mark.level ? size : radius * 0.2}
    ></circle><text y=${radius * 0.72} aria-hidden="true">${mark.figure}</text>`;
}
