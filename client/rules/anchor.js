// @ts-check
/**
 * Days that a row counts from though no event stands for them: a planned day, or the last frost.
 * Twin of server/shedbook/rules/anchor.py.
 */
import { civilDate, parseDay } from "../log/moment.js";
import { findFor, text } from "./match.js";
import { dayOf } from "./timing.js";

/** @typedef {import("./match.js").Condition} Condition */
/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */

export const LAST_FROST = "last_frost";

/**
 * The first of the fields that is known, with its day number.
 * @param {Context} context @param {Planting} planting @param {string[]} fields
 */
export function anchorDay(context, planting, fields) {
  for (const field of fields) {
    const day = field === LAST_FROST ? frostDay(context) : dayOf(planting, field);
    if (day !== null) return { field, day };
  }
  return null;
}

/** The last frost of this calendar year, as the garden's grower expects it. @param {Context} context */
function frostDay(context) {
  const written = text(context.view.settings[LAST_FROST]);
  if (written === null) return null;
  try {
    return parseDay(`${civilDate(context.today)[0]}-${written}`);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/**
 * Was any of these written down for the planting?
 * @param {Context} context @param {Planting} planting @param {Condition[]} conditions
 */
export const hasHappened = (context, planting, conditions) =>
  conditions.some((condition) => findFor(context, condition, planting).length > 0);
