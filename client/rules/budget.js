// @ts-check
/**
 * A season's nitrogen of one planting against the rates that were published for its crop. Sources
 * differ, so each is told; above all of them it is flagged, and the garden's own limit goes before
 * them. Compost and fertilizer before planting are two meals, and are flagged together.
 * Twin of server/shedbook/rules/budget.py.
 */
import { lbPerAcre, rateFromLbPer1000Ft2, rateFromLbPerAcre } from "../agronomy/customary.js";
import { finding, namePlants, reason } from "./finding.js";
import { cropFact, days, hasEnded, limit, livePlants, number, text } from "./match.js";
import { accountOf, feedsOf, givenBy } from "./nitrogen.js";
import { startDay } from "./timing.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./nitrogen.js").Account} Account */
/** @typedef {import("./nitrogen.js").Given} Given */
/** A rate in kg/ha, and who says so. @typedef {{low: number, high: number, source: string}} Told */

const COMPOST = ["compost", "composted_manure", "raw_manure"];
/** @type {Map<unknown, (rate: number) => number>} */
const TO_KG_PER_HA = new Map([
  ["kg_per_ha", (/** @type {number} */ rate) => rate],
  ["lb_per_acre", rateFromLbPerAcre],
  ["lb_per_1000_ft2", rateFromLbPer1000Ft2],
]);
const LARGEST_RATE = 10_000;

/**
 * The account, where anything was given; and compost with fertilizer before planting.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function budget(context, rule) {
  const planting = /** @type {import("./match.js").Planting} */ (context.view.planting);
  const start = startDay(planting);
  if (start === null || hasEnded(planting, context.today)) return [];
  const feeds = feedsOf(context, planting, start - days(context, rule, "before_days"));
  return [seasonOf(context, rule, feeds), bothOf(context, rule, feeds, start)].flatMap((made) =>
    made === null || context.declined.has(made.key) ? [] : [made]);
}

/** @param {Context} context @param {Rule} rule @param {Event[]} feeds */
function seasonOf(context, rule, feeds) {
  const planting = context.view.planting;
  if (!feeds.length || planting === null) return null;
  const account = accountOf(context, planting, feeds);
  const published = publishedFor(context, planting.crop);
  const most = mostOf(context, rule, published);
  const state = stateOf(account, most);
  const rates = account.given.length ? ratesOf(account.low, account.high) : {};
  const values = { entries: account.uncounted.length, ...rates };
  if (state === "flagged") Object.assign(values, { limit_kg_per_ha: most });
  const why = [
    ...account.given.map(givenReason),
    ...gramsReason(account),
    ...published.map(publishedReason),
    ...limitReasons(context, rule, account, published, most),
    ...gaps(account),
  ];
  const proof = [...account.given, ...account.uncounted].map((one) => one.event);
  const made = finding(context, rule, "season", state, values, why, proof);
  if (state === "noted" && (account.low !== account.high || account.uncounted.length)) {
    made.message.key += account.low !== account.high ? "_between" : "_at_least";
  }
  if (account.plants.length) namePlants(made, account.plants, livePlants(planting, context.today));
  return made;
}

/**
 * Unknown where nothing counts, or where the weights of two sources fall on either side.
 * @param {Account} account @param {number | null} most
 */
function stateOf({ given, low, high }, most) {
  if (!given.length) return "unknown";
  if (most === null || high <= most) return "noted";
  return low > most ? "flagged" : "unknown";
}

/**
 * Rates for the crop, in SI; what a garden's own crop says oddly is passed over.
 * @param {Context} context @param {unknown} crop
 * @returns {Told[]}
 */
export function publishedFor(context, crop) {
  const told = cropFact(context, crop, "n_published");
  const found = Array.isArray(told) ? told.map(publishedRate) : [];
  return found.flatMap((one) => (one === null ? [] : [one]));
}

/** @param {unknown} told @returns {Told | null} */
function publishedRate(told) {
  if (!Array.isArray(told) || told.length !== 4) return null;
  const [toSi, source] = [TO_KG_PER_HA.get(told[0]), text(told[3])];
  const [low, high] = [number(told[1]), number(told[2])];
  if (toSi === undefined || source === null || low === null || high === null) return null;
  if (low < 0 || low > high || high > LARGEST_RATE) return null;
  return { low: toSi(low), high: toSi(high), source };
}

/**
 * The garden's own limit, else the highest of those that were published.
 * @param {Context} context @param {Rule} rule @param {Told[]} published
 */
function mostOf(context, rule, published) {
  const own = limit(context, rule, "high_kg_per_ha");
  if (own !== null) return own;
  return published.length ? Math.max(...published.map((one) => one.high)) : null;
}

/** @param {number} low @param {number} high */
const ratesOf = (low, high) => ({
  low_kg_per_ha: low,
  high_kg_per_ha: high,
  low_lb_per_acre: lbPerAcre(low),
  high_lb_per_acre: lbPerAcre(high),
});

/**
 * One meal; its range is told where two sources weigh the product differently.
 * @param {Given} given
 */
function givenReason({ event, low, high }) {
  const key = low === high ? "budget.given" : "budget.given_between";
  return reason(key, { done_day: event.day, ...ratesOf(low, high) });
}

/** @param {Account} account */
function gramsReason({ given, low_g, high_g }) {
  if (!given.length || low_g === null) return [];
  return [reason(low_g === high_g ? "budget.plant" : "budget.plant_between", { low_g, high_g })];
}

/** @param {Told} one */
function publishedReason({ low, high, source }) {
  const key = low === high ? "budget.published" : "budget.published_between";
  return reason(key, { source, ...ratesOf(low, high) });
}

/**
 * @param {Context} context @param {Rule} rule @param {Account} account @param {Told[]} published
 * @param {number | null} most
 */
function limitReasons(context, rule, { given, low, high }, published, most) {
  if (most === null) return [reason("budget.none_published")];
  const told = [];
  if (limit(context, rule, "high_kg_per_ha") !== null) {
    told.push(reason("budget.own_limit", { limit_kg_per_ha: most }));
  }
  if (given.length && low <= most && most < high) {
    told.push(reason("budget.either_side", { limit_kg_per_ha: most }));
  } else if (low > most) {
    told.push(reason("budget.too_much"));
  } else if (published.length && given.length) {
    told.push(reason("budget.room"));
  }
  return told;
}

/**
 * What was given and could not be counted, and what would let it count.
 * @param {Account} account
 */
function gaps({ uncounted }) {
  return ["no_grade", "no_amount", "no_area", "no_sense"].flatMap((why) => {
    const entries = uncounted.filter((one) => one.why === why).length;
    return entries ? [reason(`budget.${why}`, { entries })] : [];
  });
}

/**
 * Compost and fertilizer with nitrogen, both before planting.
 * @param {Context} context @param {Rule} rule @param {Event[]} feeds @param {number} start
 */
function bothOf(context, rule, feeds, start) {
  const before = feeds.filter((event) => event.day <= start);
  const compost = before.filter(isCompost);
  const other = before.filter((event) =>
    !isCompost(event) && (number(event.details.n_percent) ?? 0) > 0);
  if (!compost.length || !other.length) return null;
  const why = [
    ...compost.map(({ day, details }) => {
      const depth_mm = number(details.depth_mm);
      const key = depth_mm === null ? "budget.compost" : "budget.compost_depth";
      return reason(key, { done_day: day, depth_mm });
    }),
    ...other.map((event) => givenBy(context, event)).map((one) =>
      one.why === "" ? givenReason(one) : reason("budget.fertilizer", { done_day: one.event.day })),
    reason("budget.one_is_enough"),
  ];
  const made = finding(context, rule, "both", "flagged", {}, why, [...compost, ...other]);
  made.message.key = `${rule.says ?? rule.shape}.both`;
  return made;
}

/** @param {Event} event */
const isCompost = ({ details }) =>
  details.material === "compost"
  || (typeof details.origin === "string" && COMPOST.includes(details.origin));
