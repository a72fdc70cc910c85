// @ts-check
// The two systems in which a person sees and types amounts. The log holds SI units alone.

/** @typedef {"metric" | "us"} System */

/**
 * How an amount of a metric unit is shown: times `factor`, plus `offset`.
 * @typedef {object} Shown
 * @property {string} unit
 * @property {number} factor
 * @property {number} offset
 */

export const SYSTEMS = /** @type {const} */ (["metric", "us"]);

/** Where people measure in feet and gallons, and the clocks that they live by. */
const US_REGIONS = ["US", "LR", "MM"];
const US_ZONES = /^(America|US|Africa\/Monrovia|Asia\/(Yangon|Rangoon)|Pacific\/(Honolulu|Guam))/;

/**
 * The system that a browser's languages and clock let expect. Browsers everywhere come in US
 * English, so the clock must agree.
 * @param {readonly string[]} languages @param {string} zone @returns {System}
 */
export function usualUnits(languages, zone) {
  const region = languages[0]?.split("-").at(-1) ?? "";
  return US_REGIONS.includes(region.toUpperCase()) && US_ZONES.test(zone) ? "us" : "metric";
}

const INCH_MM = 25.4;
const FOOT_M = 0.3048;
const GALLON_L = 3.785411784;
const OUNCE_G = 28.349523125;
const POUND_KG = 0.45359237;
const FLUID_OUNCE_ML = 29.5735295625;
const MILE_AN_HOUR_M_S = 0.44704;

/** Metric unit by unit; one that is not here is used in both systems. */
const US = /** @type {Record<string, Shown>} */ ({
  "°C": { unit: "°F", factor: 1.8, offset: 32 },
  "°C days": { unit: "°F days", factor: 1.8, offset: 0 },
  mm: { unit: "in", factor: 1 / INCH_MM, offset: 0 },
  cm: { unit: "in", factor: 10 / INCH_MM, offset: 0 },
  "cm²": { unit: "in²", factor: 100 / INCH_MM / INCH_MM, offset: 0 },
  m: { unit: "ft", factor: 1 / FOOT_M, offset: 0 },
  "m²": { unit: "ft²", factor: 1 / FOOT_M / FOOT_M, offset: 0 },
  L: { unit: "gal", factor: 1 / GALLON_L, offset: 0 },
  "L/min": { unit: "gal/min", factor: 1 / GALLON_L, offset: 0 },
  mL: { unit: "fl oz", factor: 1 / FLUID_OUNCE_ML, offset: 0 },
  g: { unit: "oz", factor: 1 / OUNCE_G, offset: 0 },
  kg: { unit: "lb", factor: 1 / POUND_KG, offset: 0 },
  "kg/m²": { unit: "oz/ft²", factor: (1000 / OUNCE_G) * FOOT_M * FOOT_M, offset: 0 },
  "m/s": { unit: "mph", factor: 1 / MILE_AN_HOUR_M_S, offset: 0 },
});
/** The unit that the end of a value's name says, for a value whose unit follows later in the text. */
const OF_NAME = /** @type {Record<string, string>} */ ({
  c: "°C", mm: "mm", cm: "cm", cm2: "cm²", m: "m", m2: "m²", l: "L", ml: "mL", g: "g", kg: "kg",
});
/** Differences and sums of temperatures have no zero to shift; in the text °C follows all the same. */
const WITHOUT_ZERO = ["k", "days"];

/** Units as texts write them, the longer first: no shorter one is found in the middle of it. */
export const UNIT_PATTERN = Object.keys(US).sort((a, b) => b.length - a.length).join("|");

/**
 * How amounts of a metric unit are shown; as they are, where both systems use the unit.
 * @param {System} system
 * @param {string} unit
 * @returns {Shown}
 */
export const shownAs = (system, unit) =>
  (system === "us" ? US[unit] : undefined) ?? { unit, factor: 1, offset: 0 };

// Finer than anybody types: what is shown after typing is what was typed.
const STORED_DECIMALS = 4;
const SHOWN_DECIMALS = 2;

/** @param {Shown} shown @param {number} stored */
export const toShown = ({ factor, offset }, stored) =>
  factor === 1 ? stored : Number((stored * factor + offset).toFixed(SHOWN_DECIMALS));

/** @param {Shown} shown @param {number} typed */
export const toStored = ({ factor, offset }, typed) =>
  factor === 1 ? typed : Number(((typed - offset) / factor).toFixed(STORED_DECIMALS));

/**
 * A round stride in these units, no longer than the metric one.
 * @param {Shown} shown
 * @param {number} step
 */
export function stepIn({ factor }, step) {
  if (factor === 1) return step;
  const wanted = step * factor;
  const ten = 10 ** Math.floor(Math.log10(wanted));
  const stride = [5, 2.5, 1].find((one) => one * ten <= wanted) ?? 1;
  return Number((stride * ten).toPrecision(2));
}

/**
 * The nearest amount that is a round one to this person: 10 mm, or half an inch.
 * @param {System} system @param {string} unit the metric one @param {number} amount
 * @param {number} [step] how finely
 */
export function roundIn(system, unit, amount, step = amount) {
  const shown = shownAs(system, unit);
  const stride = stepIn(shown, step);
  const strides = Math.max(1, Math.round(toShown(shown, amount) / stride));
  return toStored(shown, Number((strides * stride).toFixed(SHOWN_DECIMALS)));
}

/**
 * Values of a text that name their unit beside them, in the person's units.
 * @param {System} system
 * @param {Record<string, unknown>} values
 */
export function withUnit(system, values) {
  const { unit } = values;
  if (system === "metric" || typeof unit !== "string" || !(unit in US)) return values;
  const shown = shownAs(system, unit);
  const told = Object.entries(values).map(([name, value]) =>
    [name, typeof value === "number" ? toShown(shown, value) : value]);
  return { ...Object.fromEntries(told), unit: shown.unit };
}

/**
 * A number of a text in the person's units, and the unit that the text then names after it.
 * @param {System} system
 * @param {string} name of the value; its last part may say its unit
 * @param {unknown} value
 * @param {string | undefined} unit that stands behind it in the text
 * @returns {{value: unknown, unit: string | undefined}}
 */
export function inUnits(system, name, value, unit) {
  const last = name.slice(name.lastIndexOf("_") + 1);
  const metric = unit ?? OF_NAME[last];
  if (system === "metric" || metric === undefined || typeof value !== "number") {
    return { value, unit };
  }
  const shown = shownAs(system, metric);
  const offset = WITHOUT_ZERO.includes(last) ? 0 : shown.offset;
  return { value: value * shown.factor + offset, unit: unit && shown.unit };
}
