// @ts-check
/**
 * Years between crops of one family in the same bed, and other rests of a bed.
 * Twin of server/shedbook/rules/rest.py.
 */
import { addYears } from "../log/moment.js";
import { finding, keyPrefix, reason } from "./finding.js";
import { MOST_YEARS } from "./hosts.js";
import { days, familyOf, hasEnded } from "./match.js";
import { sharedHosts, soilRest } from "./soil_rest.js";
import { startDay } from "./timing.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {{years: number, source: string, crops: string[]}} Advised */

/**
 * What the row matches: crops of one family, hosts of a trouble that was seen, shared hosts.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function rest(context, rule) {
  if (rule.params.match === "hosts") return soilRest(context, rule);
  return rule.params.match === "shared" ? sharedHosts(context, rule) : familyRest(context, rule);
}

/**
 * A flag for each earlier planting of the family; unknown where the log is too young to say.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
function familyRest(context, rule) {
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
    const why = [
      reason("rest.stands", { ...values, since_day: other.from_day }),
      ...advised(rule, planting),
    ];
    const made = finding(context, rule, other.id, "flagged", values, why, proof);
    made.message.key = "rest.stands";
    return made;
  }
  const rested = { ...values, until_day: until, free_day: addYears(until, years) };
  const why = [reason("rest.until", rested), ...advised(rule, planting)];
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

/**
 * What sources say of the years for this crop.
 * @param {Rule} rule @param {Planting} planting
 */
function advised(rule, { crop }) {
  const rows = /** @type {Advised[]} */ (rule.params.advised ?? []);
  return rows
    .filter(({ crops }) => crop !== undefined && crops.includes(crop))
    .map(({ years, source }) => reason("rest.advised", { crop, years, source }));
}
