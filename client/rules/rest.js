// @ts-check
/**
 * Years between crops of one family in the same bed. Twin of server/shedbook/rules/rest.py.
 */
import { addYears, parseDay } from "../log/moment.js";
import { finding, keyPrefix, reason } from "./finding.js";
import { days, familyOf, hasEnded, text } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

const MOST_YEARS = 100;

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

/**
 * A flag for each earlier planting of the family; unknown where the log is too young to say.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function rest(context, rule) {
  const { bed, residents } = context.view;
  const planting = /** @type {Planting} */ (context.view.planting);
  const start = startDay(planting);
  if (start === null || bed === null || hasEnded(planting, context.today)) return [];
  const years = Math.min(days(context, rule, "years"), MOST_YEARS);
  const season = days(context, rule, "same_season_days");
  const earlier = residents.filter((other) =>
    other.id !== planting.id && other.from_day !== undefined && other.from_day < start - season
    && (other.until_day === undefined || addYears(other.until_day, years) > start));
  const family = familyOf(context, planting);
  const flags = earlier
    .filter((other) => family !== null && familyOf(context, other) === family)
    .map((other) => flag(context, rule, planting, other, start, years));
  if (flags.length) return flags.filter((made) => !context.declined.has(made.key));
  const why = whyUnknown(context, family, earlier, start, years);
  if (why === null || context.declined.has(`${keyPrefix(context, rule)}unknown`)) return [];
  return [finding(context, rule, "unknown", "unknown", { years }, [why], [planting])];
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {Planting} other
 * @param {number} start @param {number} years
 */
function flag(context, rule, planting, other, start, years) {
  const until = other.until_day;
  const values = {
    family: familyOf(context, other), other_planting: other.id, start_day: start, years,
  };
  const proof = [planting, other];
  if (until === undefined) {
    const why = [reason("rest.stands", { ...values, since_day: other.from_day })];
    const made = finding(context, rule, other.id, "flagged", values, why, proof);
    made.message.key = "rest.stands";
    return made;
  }
  const rested = { ...values, until_day: until, free_day: addYears(until, years) };
  const why = [reason("rest.until", rested)];
  return finding(context, rule, other.id, "flagged", rested, why, proof);
}

/**
 * @param {Context} context @param {string | null} family @param {Planting[]} earlier
 * @param {number} start @param {number} years
 */
function whyUnknown(context, family, earlier, start, years) {
  if (family === null) return reason("rest.no_family");
  const other = earlier.find((one) => familyOf(context, one) === null);
  if (other) return reason("rest.other_no_family", { other_planting: other.id });
  const wanted = addYears(start, 0 - years);
  if (firstDay(context) > wanted) return reason("rest.young_log", { wanted_day: wanted, years });
  return null;
}

/** The first day that the bed's log tells of. @param {Context} context */
function firstDay(context) {
  const { bed, residents } = context.view;
  let first = context.events.find((event) => event.bed === bed?.id)?.day ?? Infinity;
  for (const one of residents) first = Math.min(first, one.from_day ?? Infinity);
  return first;
}
