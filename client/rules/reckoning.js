// @ts-check
/**
 * What a wanted rate or a measured amount of fertilizer comes to, line by line: for the terminal
 * and the phone's calculator. A measure by volume is told for each source that weighed the product.
 * Twin of server/shedbook/rules/reckoning.py.
 */
import {
  bulkDensity, cupsOfVolume, lbPer1000Ft2, lbPerAcre, rateFromLbPer1000Ft2, rateFromLbPerAcre,
  tablespoonsOfVolume, volumeOfCups, volumeOfTablespoons,
} from "../agronomy/customary.js";
import {
  layerVolume, massForRate, massOfVolume, nutrientMass, productMass, rateOfMass, volumeOfMass,
} from "../agronomy/fertilizer.js";

/** What the amount may be: a rate of nitrogen, product for the whole area, or for each plant. */
export const UNITS = [
  "kg_per_ha", "lb_per_acre", "lb_per_1000_ft2",
  "grams_in_all", "cups_in_all", "grams_a_plant", "tablespoons_a_plant",
];
const CUBIC_YARD_L = 764.554857984;

/** @typedef {{pounds: number, cups: number, source: string}} Published */
/** @typedef {[string, Record<string, unknown>]} Line */
/**
 * One question to the calculator; areas in m², null where they are not known.
 * @typedef {{n_percent: number, p_percent: number, k_percent: number, unit: string,
 *   amount: number, ground_m2: number | null, area_m2: number | null,
 *   published: Published[]}} Asked
 */
/** @typedef {(rate: number, prefix: string) => Record<string, number>} Values */

/**
 * The answer in lines, or the one line that says what is still needed.
 * @param {Asked} asked @returns {Line[]}
 */
export function reckonFeed(asked) {
  const rates = ratesOf(asked);
  if (typeof rates === "string") return [[rates, {}]];
  const [low, high] = [Math.min(...rates), Math.max(...rates)];
  const lines = [lineOf("rate", low, high, rateValues)];
  for (const [name, percent] of /** @type {const} */ ([
    ["p2o5", asked.p_percent], ["k2o", asked.k_percent],
  ])) {
    if (percent <= 0) continue;
    const share = percent / asked.n_percent;
    lines.push(lineOf(name, low * share, high * share, rateValues));
  }
  if (asked.ground_m2 !== null) lines.push(productOf(asked, "plant", asked.ground_m2, low, high));
  if (asked.area_m2 !== null) lines.push(productOf(asked, "area", asked.area_m2, low, high));
  return [...lines, ...measures(asked, low)];
}

/**
 * Litres of a layer, and what it is in the measure of bulk goods.
 * @param {number} area_m2 @param {number} depth_mm @returns {Line[]}
 */
export function reckonCompost(area_m2, depth_mm) {
  const volume_l = layerVolume(area_m2, depth_mm);
  return [["compost", { area_m2, depth_mm, volume_l, cubic_yards: volume_l / CUBIC_YARD_L }]];
}

/**
 * Nitrogen in kg/ha, by each weight of the product where it was measured by volume.
 * @param {Asked} asked
 */
function ratesOf(asked) {
  const { unit, amount } = asked;
  if (asked.n_percent <= 0) return "no_grade";
  if (unit === "kg_per_ha") return [amount];
  if (unit === "lb_per_acre") return [rateFromLbPerAcre(amount)];
  if (unit === "lb_per_1000_ft2") return [rateFromLbPer1000Ft2(amount)];
  const isEach = unit === "grams_a_plant" || unit === "tablespoons_a_plant";
  const area = isEach ? asked.ground_m2 : asked.area_m2;
  if (area === null) return isEach ? "no_ground" : "no_area";
  const masses = massesOf(asked);
  if (!masses.length) return "no_weight";
  return masses.map((mass) => rateOfMass(nutrientMass(mass, asked.n_percent), area));
}

/**
 * Grams of product, by each weight.
 * @param {Asked} asked
 */
function massesOf({ unit, amount, published }) {
  if (unit === "grams_in_all" || unit === "grams_a_plant") return [amount];
  const volume = unit === "cups_in_all" ? volumeOfCups(amount) : volumeOfTablespoons(amount);
  return published.map((one) => massOfVolume(volume, densityOf(one)));
}

/** @param {Published} one */
const densityOf = (one) => bulkDensity(one.pounds, one.cups);

/**
 * @param {string} key @param {number} low @param {number} high @param {Values} values
 * @returns {Line}
 */
const lineOf = (key, low, high, values) =>
  (low === high
    ? [key, values(low, "")]
    : [`${key}_between`, { ...values(low, "low_"), ...values(high, "high_") }]);

/** @type {Values} */
const rateValues = (rate, prefix) => ({
  [`${prefix}kg_per_ha`]: rate,
  [`${prefix}lb_per_acre`]: lbPerAcre(rate),
  [`${prefix}lb_per_1000_ft2`]: lbPer1000Ft2(rate),
});

/**
 * Grams of product and of nitrogen on so much ground.
 * @param {Asked} asked @param {string} key @param {number} area @param {number} low
 * @param {number} high @returns {Line}
 */
function productOf(asked, key, area, low, high) {
  const [name, told] = lineOf(key, low, high, (rate, prefix) => {
    const nitrogen = massForRate(rate, area);
    const product = productMass(nitrogen, asked.n_percent);
    return { [`${prefix}product_grams`]: product, [`${prefix}nitrogen_grams`]: nitrogen };
  });
  return [name, { ...told, area_m2: area }];
}

/**
 * Spoons for a plant and cups for the area; not where the question was asked in those.
 * @param {Asked} asked @param {number} rate
 */
function measures(asked, rate) {
  const { unit, published, ground_m2, area_m2 } = asked;
  if (unit === "cups_in_all" || unit === "tablespoons_a_plant") return [];
  /** @type {Line[]} */
  const lines = [];
  for (const one of published) {
    for (const [key, area] of /** @type {const} */ ([["spoons", ground_m2], ["cups", area_m2]])) {
      if (area === null) continue;
      const product = productMass(massForRate(rate, area), asked.n_percent);
      const volume = volumeOfMass(product, densityOf(one));
      const told = key === "spoons" ? tablespoonsOfVolume(volume) : cupsOfVolume(volume);
      lines.push([key, { source: one.source, [key]: told }]);
    }
  }
  return lines;
}
