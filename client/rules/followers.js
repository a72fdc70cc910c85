// @ts-check
/**
 * What may follow in a bed: each crop is tried there by the rules on place, and ranked.
 * Twin of server/shedbook/rules/followers.py.
 */
import { civilDate, dayText, parseDay } from "../log/moment.js";
import { beside } from "./beside.js";
import { film } from "./film.js";
import { follow } from "./follow.js";
import { applies, compareText, contextOf, number, text } from "./match.js";
import { rest } from "./rest.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("../types.js").View} View */
/** @typedef {import("../types.js").Follower} Follower */

/**
 * The shapes that ask about a place; each row of them says what going against it weighs.
 * @type {Map<string, (context: Context, rule: Rule) => Finding[]>}
 */
const OF_PLACE = new Map([
  ["rest", rest],
  ["beside", beside],
  ["follow", follow],
  ["film", film],
]);
const TRIED = "tried";
/** The season's start where the garden has no last frost date: common practice, no source. */
const SEASON_START = "05-15";

/**
 * The crops for a bed from a day on, least conflict first, and of equals the garden's own.
 * @param {View} view @param {import("../types.js").Rulebook} rulebook
 * @param {number} today @param {number} now @param {number} day
 * @param {Iterable<string>} crops @param {Set<string>} own
 * @returns {Follower[]}
 */
export function followers(view, rulebook, today, now, day, crops, own) {
  const context = contextOf(view, rulebook, today, now);
  return [...new Set(crops)]
    .map((crop) => tryCrop(context, crop, day))
    .sort((one, other) =>
      one.cost - other.cost
      || Number(!own.has(one.crop)) - Number(!own.has(other.crop))
      || compareText(one.crop, other.crop));
}

/**
 * What the rules say of a crop set out in the bed on a day; `bed` is a bed's context.
 * @param {Context} bed @param {string} crop @param {number} day
 * @returns {Follower}
 */
function tryCrop(bed, crop, day) {
  const id = /** @type {import("../types.js").Bed} */ (bed.view.bed).id;
  /** @type {Planting} */
  const planting = {
    id: TRIED, hidden: false, removed: {}, standing: false, crop, bed: id,
    planned_on: dayText(day),
  };
  /** @type {View} */
  const view = {
    ...bed.view, kind: "planting", subject: { bed: id, planting: TRIED }, planting,
    residents: [...bed.view.residents, planting],
  };
  const context = { ...bed, view };
  const rules = /** @type {Rule[]} */ (/** @type {unknown} */ (bed.rulebook.rules));
  const told = rules
    .filter((rule) => OF_PLACE.has(rule.shape) && applies(context, rule))
    .flatMap((rule) => {
      const shape = /** @type {(context: Context, rule: Rule) => Finding[]} */ (
        OF_PLACE.get(rule.shape));
      return shape(context, rule).map((made) => ({ weight: weightOf(rule, made), made }));
    })
    .sort((one, other) =>
      other.weight - one.weight || compareText(one.made.key, other.made.key));
  let cost = 0;
  for (const { weight } of told) cost += weight;
  return { crop, cost, findings: told.map(({ made }) => made) };
}

/**
 * What a finding weighs against the place; less than nothing where it speaks for it.
 * @param {Rule} rule @param {Finding} made
 */
function weightOf({ params }, made) {
  const evidence = text(made.message.values.evidence);
  if (evidence !== null) {
    const weight = number(params.weights?.[evidence]) ?? 0;
    return made.state === "noted" ? 0 - weight : weight;
  }
  const name = made.state === "flagged" ? "weight" : `weight_${made.state}`;
  return number(params[name]) ?? 0;
}

/**
 * The day from which a season's crops are thought to be set out: after the last frost.
 * @param {Record<string, unknown>} settings @param {number} year
 */
function seasonDay(settings, year) {
  try {
    return parseDay(`${year}-${text(settings.last_frost)}`);
  } catch (error) {
    if (error instanceof RangeError) return parseDay(`${year}-${SEASON_START}`);
    throw error;
  }
}

/**
 * The next such day that is still to come.
 * @param {Record<string, unknown>} settings @param {number} today
 */
export function nextSeasonDay(settings, today) {
  const [year] = civilDate(today);
  const day = seasonDay(settings, year);
  return day > today ? day : seasonDay(settings, year + 1);
}
