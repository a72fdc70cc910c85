// @ts-check
/**
 * How much nitrogen reached the plants of one planting, from what was given and where. The grade
 * must be written down: no nitrogen is guessed from a product's name. What was measured by volume
 * weighs what was published for its material; where two sources differ both are kept.
 * Twin of server/shedbook/rules/nitrogen.py.
 */
import { bulkDensity } from "../agronomy/customary.js";
import { OutOfRange } from "../agronomy/errors.js";
import { areaPerPlant, massOfVolume, nutrientMass, rateOfMass } from "../agronomy/fertilizer.js";
import { UNCOUNTED, concerns, covers, livePlants, namedPlants, number, plantGroups }
  from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/**
 * What one entry brought, in kg/ha and g a plant; `why` says what keeps it from counting.
 * @typedef {{event: Event, low: number, high: number, low_g: number | null,
 *   high_g: number | null, why: string}} Given
 */
/**
 * What some plants of a planting got: all that counts, and what could not be counted.
 * @typedef {{plants: number[], given: Given[], uncounted: Given[], low: number, high: number,
 *   low_g: number | null, high_g: number | null}} Account
 */

const PER_HECTARE_TO_GRAMS_PER_M2 = 0.1;
// A kilogram of nitrogen on a square metre: nobody means that.
const MOST_KG_PER_HA = 10_000;

/**
 * What was given to it, or to its bed, since the first day.
 * @param {Context} context @param {Planting} planting @param {number} first
 */
export const feedsOf = (context, planting, first) =>
  (context.byKind.get("feed") ?? []).filter((event) =>
    event.day >= first
    && concerns(event, planting)
    // What its seedlings got in another place is not in this soil.
    && (event.bed ?? planting.bed) === planting.bed);

/**
 * The plants that got most; the others got no more.
 * @param {Context} context @param {Planting} planting @param {Event[]} feeds
 * @returns {Account}
 */
export function accountOf(context, planting, feeds) {
  let found = null;
  for (const plants of plantGroups(livePlants(planting, context.today), feeds)) {
    const theirs = feeds.filter((event) => reaches(context, event, plants[0]));
    const told = summed(plants, theirs, context);
    if (found === null || told.high > found.high) found = told;
  }
  return found ?? summed([], [], context);
}

/**
 * Plants whose number was never logged may each be one of those that an entry names.
 * @param {Context} context @param {Event} event @param {number} plant
 */
const reaches = (context, event, plant) => plant === UNCOUNTED || covers(context, event, plant);

/**
 * @param {number[]} plants @param {Event[]} feeds @param {Context} context
 * @returns {Account}
 */
function summed(plants, feeds, context) {
  const told = feeds.map((event) => givenBy(context, event));
  const given = told.filter((one) => one.why === "");
  const uncounted = told.filter((one) => one.why !== "");
  let [low, high, lowG, highG, isKnown] = [0, 0, 0, 0, true];
  for (const one of given) {
    low = low + one.low;
    high = high + one.high;
    if (one.low_g === null || one.high_g === null) {
      isKnown = false;
      continue;
    }
    lowG = lowG + one.low_g;
    highG = highG + one.high_g;
  }
  const grams = isKnown ? { low_g: lowG, high_g: highG } : { low_g: null, high_g: null };
  return { plants, given, uncounted, low, high, ...grams };
}

/**
 * What the entry brought, or why that can't be said.
 * @param {Context} context @param {Event} event
 * @returns {Given}
 */
export function givenBy(context, event) {
  const nothing = { event, low: 0, high: 0, low_g: null, high_g: null };
  try {
    const told = broughtBy(context, event);
    return typeof told === "string" ? { ...nothing, why: told } : { event, ...told, why: "" };
  } catch (error) {
    if (error instanceof OutOfRange) return { ...nothing, why: "no_sense" };
    throw error;
  }
}

/** @param {Context} context @param {Event} event */
function broughtBy(context, event) {
  const percent = number(event.details.n_percent);
  if (percent === null) return "no_grade";
  if (percent === 0) return { low: 0, high: 0, low_g: 0, high_g: 0 };
  const masses = massesOf(context, event.details);
  if (masses === null) return "no_amount";
  const [least, most] = masses.map((mass) => nutrientMass(mass, percent));
  const ground = groundOfPlant(context);
  const area = areaOf(context, event, ground);
  if (area === null) return "no_area";
  const [low, high] = [rateOfMass(least, area), rateOfMass(most, area)];
  if (high > MOST_KG_PER_HA) return "no_sense";
  if (ground === null) return { low, high, low_g: null, high_g: null };
  const share = PER_HECTARE_TO_GRAMS_PER_M2 * ground;
  return { low, high, low_g: low * share, high_g: high * share };
}

/**
 * The lowest and highest mass of what was given, in grams.
 * @param {Context} context @param {Event["details"]} details
 */
export function massesOf(context, details) {
  const grams = number(details.amount_g);
  if (grams !== null) return [grams, grams];
  const volume = number(details.amount_ml);
  const densities = densitiesOf(context, details.material);
  if (volume === null || !densities.length) return null;
  const masses = densities.map((density) => massOfVolume(volume, density));
  return [Math.min(...masses), Math.max(...masses)];
}

/**
 * What a millilitre of the material weighs, by each source.
 * @param {Pick<Context, "rulebook">} context @param {unknown} material
 */
export function densitiesOf(context, material) {
  const known = context.rulebook.fertilizers ?? {};
  if (typeof material !== "string" || !Object.hasOwn(known, material)) return [];
  return known[material].published.map((one) => bulkDensity(one.pounds, one.cups));
}

/**
 * Ground that belongs to one plant: by its distances, else an equal share of its own bed.
 * @param {Context} context
 */
export function groundOfPlant(context) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const [inRow, between] = [number(planting.in_row_m), number(planting.between_rows_m)];
  if (inRow !== null && between !== null && inRow > 0 && between > 0) {
    return areaPerPlant(inRow, between);
  }
  const [bed, count] = [bedArea(context), number(planting.plants)];
  const isAlone = context.view.residents.length <= 1;
  return bed !== null && isAlone && count !== null && count > 0 ? bed / count : null;
}

/** Length times width of the bed, in m². @param {Context} context */
export function bedArea(context) {
  const bed = context.view.bed;
  const [length, width] = [number(bed?.length_m), number(bed?.width_m)];
  return length === null || width === null || length <= 0 || width <= 0 ? null : length * width;
}

/**
 * Ground that the entry's amount was spread over.
 * @param {Context} context @param {Event} event @param {number | null} ground
 */
function areaOf(context, event, ground) {
  const told = number(event.details.area_m2);
  if (told !== null && told > 0) return told;
  if (event.planting === undefined) return bedArea(context);
  const plants = namedPlants(event)?.length ?? number(context.view.planting?.plants);
  return ground !== null && plants !== null && plants > 0 ? ground * plants : null;
}
