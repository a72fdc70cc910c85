// @ts-check
/**
 * What could this be? Troubles of a crop, ranked by the signs seen.
 * Twin of server/shedbook/rules/troubles.py.
 * The points are sums of weights, not chances: nobody has counted how often each sign goes with each
 * trouble. Two troubles too close, or too little seen, is an answer of its own.
 */
import { compareText, own, text } from "./match.js";

/** @typedef {import("../types.js").Rulebook} Rulebook */
/** @typedef {import("./weather_features.js").Features} Features */
/**
 * @typedef {{prior?: number, crops?: string[], families?: string[], signs: Record<string, number>,
 *   against: string[], stages?: string[], look_alikes: string[], measures: string[],
 *   spread: string[], hygiene: string[], sample: string, source: string, also?: string[],
 *   weather?: {feature: string, at_least: number, factor: number}[]}} Trouble
 */
/** @typedef {{sign: string, weight: number}} Weighed */
/** @typedef {{feature: string, value: number, at_least: number, factor: number}} Moved */
/**
 * @typedef {{trouble: string, points: number, score: number, for: Weighed[], against: Weighed[],
 *   missing: string[], weather: Moved[], other_stage: boolean}} Ranked
 */
/** @typedef {{sign: string, speaks_for: number}} Teller */
/**
 * @typedef {{ranked: Ranked[], passed_over: string[], verdict: "ranked" | "not_enough",
 *   why: "no_signs" | "too_little" | "too_close" | null, tell_apart: Teller[]}} Answer
 */
/** @typedef {Map<string, number>} Shown */
/** @typedef {Record<string, number>} Numbers */

const STEPS = 1000;

/**
 * The troubles that the signs speak for, first the one with the most points. `at` holds what is
 * known beside the signs: "features" of the recent weather and the "stage".
 * @param {Rulebook} rulebook @param {string | null} crop @param {unknown} ownCrops
 * @param {readonly string[]} seen @param {{features: Features, stage: string | null}} at
 * @returns {Answer}
 */
export function couldBe(rulebook, crop, ownCrops, seen, at) {
  const numbers = rulebook.ranking;
  const rows = troublesOf(rulebook, crop, ownCrops);
  const shown = shownBy(rows);
  const once = [...new Set(seen)];
  const signs = once.filter((sign) => shown.has(sign)).sort(compareText);
  const made = [...rows.keys()].sort(compareText)
    .map((trouble) => judge(trouble, rowOf(rows, trouble), shown, signs, at, numbers))
    .filter((one) => one.points > 0)
    .sort((a, b) => b.points - a.points || compareText(a.trouble, b.trouble));
  let whole = 0;
  for (const one of made) whole += one.points;
  for (const one of made) one.score = step(one.points / whole);
  return {
    ranked: made,
    passed_over: once.filter((sign) => !shown.has(sign)),
    ...verdictOf(made, signs, rows, shown, numbers),
  };
}

/**
 * The rows that concern a crop: those of any crop, of the crop, and of its family.
 * @param {Rulebook} rulebook @param {string | null} crop @param {unknown} ownCrops
 * @returns {Map<string, Trouble>}
 */
export function troublesOf(rulebook, crop, ownCrops) {
  const named = crop ?? "";
  const told = text(own(own(ownCrops, named), "family"));
  const family = told ?? text(own(own(rulebook.crops, named), "family"));
  const concerns = (/** @type {Trouble} */ row) =>
    (row.crops === undefined && row.families === undefined)
    || (crop !== null && row.crops?.includes(crop))
    || (family !== null && row.families?.includes(family));
  return new Map(Object.entries(rulebook.troubles).filter(([, row]) => concerns(row)));
}

/**
 * The strength with which the troubles show each sign, added up; 0 is left out.
 * @param {Map<string, Trouble>} rows
 * @returns {Shown}
 */
export function shownBy(rows) {
  const shown = new Map();
  for (const row of rows.values()) {
    for (const [sign, strength] of Object.entries(row.signs)) {
      shown.set(sign, (shown.get(sign) ?? 0) + strength);
    }
  }
  return shown;
}

/**
 * A sign's strength times its share of all the strength with which troubles show it.
 * @param {Trouble} row @param {string} sign @param {Shown} shown
 */
export function weightOf(row, sign, shown) {
  const strength = row.signs[sign];
  return step((strength * strength) / total(shown, sign));
}

/**
 * One trouble with what speaks for it and against it, and its points.
 * @param {string} trouble @param {Trouble} row @param {Shown} shown @param {string[]} signs
 * @param {{features: Features, stage: string | null}} at @param {Numbers} numbers
 * @returns {Ranked}
 */
function judge(trouble, row, shown, signs, at, numbers) {
  const weights = new Map(Object.keys(row.signs).map((sign) => [sign, weightOf(row, sign, shown)]));
  const found = signs.filter((sign) => weights.has(sign))
    .map((sign) => ({ sign, weight: weights.get(sign) ?? 0 }));
  const against = [];
  for (const sign of signs) {
    if (row.against.includes(sign)) against.push({ sign, weight: numbers.against_points });
    else if (!weights.has(sign)) {
      against.push({ sign, weight: step(numbers.not_shown / total(shown, sign)) });
    }
  }
  let points = 0;
  for (const one of found) points += one.weight;
  for (const one of against) points -= one.weight;
  const weather = weatherOf(row, at.features);
  let factor = row.prior ?? 1;
  for (const moved of weather) factor *= moved.factor;
  const isOther = at.stage !== null && row.stages !== undefined && !row.stages.includes(at.stage);
  if (isOther) factor *= numbers.stage_factor;
  const left = [...weights.keys()].filter((sign) => !signs.includes(sign)).sort((a, b) =>
    (weights.get(b) ?? 0) - (weights.get(a) ?? 0) || compareText(a, b));
  return {
    trouble,
    points: found.length ? step(Math.max(0, points) * factor) : 0,
    score: 0,
    for: found,
    against,
    missing: left.slice(0, numbers.missing_count),
    weather,
    other_stage: isOther,
  };
}

/**
 * The weather rows of a trouble that hold by what was logged, with their factors.
 * @param {Trouble} row @param {Features} features
 * @returns {Moved[]}
 */
function weatherOf(row, features) {
  return (row.weather ?? []).flatMap(({ feature, at_least, factor }) => {
    const value = features[feature] ?? null;
    return value !== null && value >= at_least ? [{ feature, value, at_least, factor }] : [];
  });
}

/**
 * Whether the signs are enough to go by; if two are too close, what would tell them apart.
 * @param {Ranked[]} made @param {string[]} signs @param {Map<string, Trouble>} rows
 * @param {Shown} shown @param {Numbers} numbers
 * @returns {Pick<Answer, "verdict" | "why" | "tell_apart">}
 */
function verdictOf(made, signs, rows, shown, numbers) {
  if (!signs.length) return { verdict: "not_enough", why: "no_signs", tell_apart: [] };
  const least = signs.length === 1 ? numbers.least_points_alone : numbers.least_points;
  if (!made.length || made[0].points < least) {
    return { verdict: "not_enough", why: "too_little", tell_apart: [] };
  }
  if (made.length > 1 && made[1].points > numbers.close_share * made[0].points) {
    const [one, other] = [rowOf(rows, made[0].trouble), rowOf(rows, made[1].trouble)];
    const apart = tellApart(one, other, shown, signs);
    return { verdict: "not_enough", why: "too_close", tell_apart: apart };
  }
  return { verdict: "ranked", why: null, tell_apart: [] };
}

/**
 * Signs not ticked yet that only one of two troubles shows: the two most telling of each.
 * @param {Trouble} one @param {Trouble} other @param {Shown} shown @param {string[]} signs
 * @returns {Teller[]}
 */
export function tellApart(one, other, shown, signs) {
  return [[one, other], [other, one]].flatMap(([row, rest], at) =>
    Object.keys(row.signs)
      .filter((sign) => !Object.hasOwn(rest.signs, sign) && !signs.includes(sign))
      .sort((a, b) => weightOf(row, b, shown) - weightOf(row, a, shown) || compareText(a, b))
      .slice(0, 2)
      .map((sign) => ({ sign, speaks_for: at })));
}

/** @param {Map<string, Trouble>} rows @param {string} trouble */
const rowOf = (rows, trouble) => /** @type {Trouble} */ (rows.get(trouble));

/** @param {Shown} shown @param {string} sign */
const total = (shown, sign) => /** @type {number} */ (shown.get(sign));

/** In thousandths, so that no last bit decides an order. @param {number} value */
const step = (value) => Math.floor(value * STEPS + 0.5) / STEPS;
