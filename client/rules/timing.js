// @ts-check
/**
 * When a planting went or is to go into its place. Twin of server/shedbook/rules/timing.py.
 */
import { parseDay } from "../log/moment.js";
import { text } from "./match.js";

/** @typedef {import("./match.js").Planting} Planting */

/**
 * The day number that a date field of a planting holds.
 * @param {Planting} planting @param {string} field
 */
export function dayOf(planting, field) {
  const written = text(planting[field]);
  if (written === null) return null;
  try {
    return parseDay(written);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** When it went or is to go into its place. @param {Planting} planting */
export const startDay = (planting) => planting.from_day ?? dayOf(planting, "planned_on");
