// @ts-check
// Amounts of a chart and its table in the person's units.
import { shownAs, toShown } from "../../units.js";

/** @typedef {import("../../types.js").State} State */

const DIGITS = 3;

/**
 * As many digits as an eye tells apart on a chart; all of them before the decimal mark.
 * @param {number} value
 */
const told = (value) =>
  Math.abs(value) >= 10 ** DIGITS ? Math.round(value) : Number(value.toPrecision(DIGITS));

/**
 * The number alone; its unit stands at the axis, and in the head of the table's column.
 * @param {State} state @param {number} value @param {string} [unit] metric
 */
export function amountOf(state, value, unit = "") {
  const shown = toShown(shownAs(state.preferences.units, unit), value);
  return state.say("screen.value.number", { amount: told(shown) });
}

/**
 * The same, or that it is not known.
 * @param {State} state @param {number | null} value @param {string} [unit]
 */
export const amountOrNot = (state, value, unit) =>
  value === null ? state.say("screen.chart.not_known") : amountOf(state, value, unit);

/**
 * Words with the unit behind them, where there is one.
 * @param {State} state @param {string} label @param {string} [unit] metric
 */
export const withUnitOf = (state, label, unit) =>
  unit ? state.say("screen.chart.with_unit", { label, unit }) : label;

/** @param {State} state @param {number} day */
export const dayOf = (state, day) => state.say("screen.value.day", { at_day: day });
