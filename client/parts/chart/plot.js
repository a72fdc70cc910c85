// @ts-check
// The ground of a chart: days along, an amount upwards (or down), and what both axes say.
import { svg } from "../../vendor/lit-html/lit-html.js";
import { civilDate, dayNumber } from "../../log/moment.js";
import { shownAs } from "../../units.js";
import { dayOf } from "./amounts.js";
import { linear, roundTicks } from "./scale.js";

/** @typedef {import("../../types.js").State} State */
/**
 * @typedef {object} Plot
 * @property {import("./scale.js").Scale} x of a day, with its hours as a fraction
 * @property {import("./scale.js").Scale} y of an amount, in the metric unit
 * @property {number} left
 * @property {number} right
 * @property {number} top
 * @property {number} base where the amounts begin; lanes may follow below
 * @property {number} height of the whole drawing
 * @property {number} from first day
 * @property {number} to last day
 * @property {number[]} ticks amounts that the axis names
 */
/**
 * @typedef {object} Asked
 * @property {number} from
 * @property {number} to
 * @property {number} low
 * @property {number} high
 * @property {string} [unit] metric
 * @property {boolean} [isWhole] the amounts are counted in whole things
 * @property {boolean} [isDown] the amounts grow downwards
 * @property {number} [tall]
 * @property {number} [lanes] room below the base
 */

export const WIDTH = 360;
const [LEFT, RIGHT, TOP, DATES] = [44, 352, 30, 22];
const TALL = 120;
/** Up to so many days each week has its tick, and from then on each month. */
const WEEKS_UP_TO = 62;
const ROOM_FOR_MONTH = 24;

/** @param {State} state @param {Asked} asked @returns {Plot} */
export function plotOf(state, asked) {
  const { from, to, low, high, unit = "", isDown = false, tall = TALL, lanes = 0 } = asked;
  const least = asked.isWhole ? 1 : 0;
  const base = TOP + tall;
  const shown = shownAs(state.preferences.units, unit);
  const inside = [low, high].map((one) => one * shown.factor + shown.offset);
  const ticks = roundTicks(inside[0], inside[1], least);
  const stored = ticks.map((tick) => (tick - shown.offset) / shown.factor);
  // The axis ends at a tick, so that each value lies between two that are named.
  const end = Math.max(high, stored[stored.length - 1]);
  return {
    x: linear(from, to, LEFT, RIGHT),
    y: isDown ? linear(low, end, TOP, base) : linear(low, end, base, TOP),
    left: LEFT,
    right: RIGHT,
    top: TOP,
    base,
    height: base + lanes + DATES,
    from,
    to,
    ticks: stored,
  };
}

/**
 * Lines and words of both axes.
 * @param {State} state
 * @param {Plot} plot
 * @param {{caption: string, words: (amount: number) => string, zero?: number}} axis
 */
export function axes(state, plot, { caption, words, zero = plot.base }) {
  const { left, right, ticks, y } = plot;
  return svg`<text class="chart-words" x="0" y="11">${caption}</text>
    ${ticks.map(
      (tick) => svg`<line class="chart-grid" x1=${left} x2=${right} y1=${y(tick)} y2=${y(tick)}></line>
        <text class="chart-words chart-end chart-tick-words" x=${left - 6} y=${y(tick) + 4}>${words(tick)}</text>`,
    )}
    <line class="chart-line" x1=${left} x2=${right} y1=${zero} y2=${zero}></line>
    ${dates(state, plot)}`;
}

/** @param {State} state @param {Plot} plot */
function dates(state, plot) {
  const { from, to, x, left, right, height } = plot;
  const bottom = height - 17;
  const tick = (/** @type {number} */ day) =>
    svg`<line class="chart-tick" x1=${x(day)} x2=${x(day)} y1=${bottom - 4} y2=${bottom + 1}></line>`;
  const word = (/** @type {number} */ at, /** @type {string} */ where, /** @type {string} */ said) =>
    svg`<text class="chart-words ${where}" x=${at} y=${height - 4}>${said}</text>`;
  if (to - from <= WEEKS_UP_TO) {
    const last = to >= state.today ? state.say("screen.chart.now") : dayOf(state, Math.floor(to));
    return [
      ...weeksBack(from, to).map(tick),
      word(left, "", dayOf(state, from)),
      word(right, "chart-end", last),
    ];
  }
  return monthStarts(from, to).map(([day, said]) => [
    tick(day),
    x(day) < right - ROOM_FOR_MONTH / 2 && x(day) > left + ROOM_FOR_MONTH / 2
      ? word(x(day), "chart-mid", state.say(said, {}))
      : "",
  ]);
}

/** @param {number} from @param {number} to */
function weeksBack(from, to) {
  const days = [];
  for (let day = to - 7; day > from; day -= 7) days.push(day);
  return days;
}

/**
 * The first of each month, with the word for it.
 * @param {number} from @param {number} to
 * @returns {[number, string][]}
 */
function monthStarts(from, to) {
  /** @type {[number, string][]} */
  const starts = [];
  let [year, month] = civilDate(Math.floor(from));
  for (;;) {
    [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
    const day = dayNumber(year, month, 1);
    if (day > to) return starts;
    starts.push([day, `date.month.${month}`]);
  }
}
