// @ts-check
/**
 * The water account of a bed: what its root zone held on each day since the planting.
 *
 * It is kept three times over. The middle one takes the middle of everything; the dry and the wet
 * one take, of all that is not known for sure, what leaves the soil driest and wettest.
 * Twin of server/shedbook/rules/water_account.py.
 */
import {
  depletionFraction, effectiveRain, readilyAvailableWater, totalAvailableWater, waterDay,
} from "../agronomy/soil_water.js";
import { eventsInDays } from "./daily.js";
import { standingPlantings } from "./gap.js";
import { days, limit } from "./match.js";
import { demandOn, referenceLoss, thirstsOf } from "./water_demand.js";
import { depthGiven, groundOf } from "./water_ground.js";
import { gapOf, weatherFrom } from "./water_weather.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./water_weather.js").Weather} Weather */
/** @typedef {import("./water_ground.js").Ground} Ground */
/** @typedef {import("./water_ground.js").Three} Three */
/** @typedef {import("./water_demand.js").Demand} Demand */
/** @typedef {import("./water_demand.js").Thirst} Thirst */
/** @typedef {import("../agronomy/soil_water.js").WaterDay} WaterDay */
/**
 * A day of the account, as a screen draws it.
 * @typedef {import("../types.js").WaterLine} Line
 */
/**
 * What must be given before an account can be kept.
 * @typedef {{needs: string[], missing_day: number | null, without_facts: Planting[]}} Needs
 */
/**
 * The account of a bed up to now, and who keeps it.
 * @typedef {{keeper: Keeper, start: string, lines: Line[], mean_et0_mm: number,
 *   without_facts: Planting[]}} Account
 */
/** @typedef {{taw: number, p: number}} Limits */

/** Places in what is kept three times over. */
const [DRY, WET] = [0, 2];
export const MIDDLE = 1;
const RUNS = [DRY, MIDDLE, WET];
/** How empty the soil is at the start, as a share of what may go (planting) or of all (later). */
const AT_START = [1, 0.5, 0];
/** What a watering of unknown size leaves of the depletion: all of it, half, nothing. */
const LEFT_BY_UNMEASURED = [1, 0.5, 0];
export const WEEK_DAYS = 7;
const MOST_DAYS = 400;
const MOST_MM = 50;
const NO_LOSS = [0, 0, 0];
/** At which a crop's p is listed; it stands in until a day of the account has gone by. */
const USUAL_LOSS = [5, 5, 5];

/**
 * The account of the view's bed, or what it needs; null where nothing stands.
 * @param {Context} context @param {Rule} rule
 * @returns {Account | Needs | null}
 */
export function accountOf(context, rule) {
  const key = `water/${rule.id}`;
  const known = context.known.has(key)
    ? /** @type {Account | Needs | null} */ (context.known.get(key))
    : makeAccount(context, rule);
  context.known.set(key, known);
  return known;
}

/** @param {Context} context @param {Rule} rule @returns {Account | Needs | null} */
function makeAccount(context, rule) {
  const plantings = standingPlantings(context);
  if (!plantings.length) return null;
  const { ground, needs } = groundOf(context, rule);
  const { found: thirsts, unknown: without_facts } = thirstsOf(context, plantings);
  if (!thirsts.length) needs.push("crop");
  let [first, start] = firstDay(context, rule, thirsts);
  const weather = weatherFrom(context, first);
  let missing_day = null;
  if (weather.lastMissing !== null) {
    [first, start] = [weather.lastMissing + 1, "gap"];
    if (first >= context.today) {
      const [what, day] = gapOf(weather);
      missing_day = day;
      needs.push(what);
    }
  }
  if (needs.length || ground === null) return { needs, missing_day, without_facts };
  const errorC = limit(context, rule, "fill_error_c") ?? 0;
  const losses = weather.air.slice(first - weather.first)
    .map((air) => referenceLoss(ground.latitude_deg, air, errorC));
  const keeper = keeperOf(context, rule, ground, thirsts);
  const lines = linesOf(keeper, first, start, losses, weather);
  const week = losses.slice(-WEEK_DAYS);
  let total = 0;
  for (const one of week) total += one[MIDDLE];
  const mean_et0_mm = week.length ? total / week.length : USUAL_LOSS[MIDDLE];
  return { keeper, start, lines, mean_et0_mm, without_facts };
}

/**
 * The day that the account begins on, and why on that day.
 * @param {Context} context @param {Rule} rule @param {Thirst[]} thirsts
 * @returns {[number, string]}
 */
function firstDay(context, rule, thirsts) {
  const first = thirsts.length
    ? thirsts.reduce((day, one) => Math.min(day, one.from_day), Infinity)
    : context.today;
  const span = Math.min(Math.max(days(context, rule, "account_days"), WEEK_DAYS), MOST_DAYS);
  const oldest = context.today - span;
  return first < oldest ? [oldest, "span"] : [first, "planting"];
}

/**
 * Whose account it is, and what of the rule counts day by day.
 * @typedef {{context: Context, ground: Ground, thirsts: Thirst[], followsThirst: boolean,
 *   startRootM: number, startShares: number[]}} Keeper
 */

/**
 * @param {Context} context @param {Rule} rule @param {Ground} ground @param {Thirst[]} thirsts
 * @returns {Keeper}
 */
function keeperOf(context, rule, ground, thirsts) {
  return {
    context,
    ground,
    thirsts,
    followsThirst: (limit(context, rule, "p_follows_thirst") ?? 0) > 0,
    startRootM: limit(context, rule, "start_root_m") ?? 0,
    startShares: rule.params.start_shares ?? AT_START,
  };
}

/**
 * Every day from the first to today; of today only what came in so far.
 * @param {Keeper} keeper @param {number} first @param {string} start
 * @param {Three[]} losses @param {Weather} weather
 */
function linesOf(keeper, first, start, losses, weather) {
  const { today } = keeper.context;
  const { given, unmeasured } = givenSince(keeper, first);
  const usual = losses.length ? losses[losses.length - 1] : USUAL_LOSS;
  /** @type {Line[]} */
  const lines = [];
  /** @type {number[]} */
  let depletions = [];
  for (let day = first; day <= today; day += 1) {
    const isToday = day === today;
    const loss = isToday ? NO_LOSS : losses[day - first];
    const demand = demandFor(keeper, day);
    const limits = limitsOf(keeper, demand, isToday ? usual : loss);
    if (!lines.length) depletions = RUNS.map((run) => atStart(keeper, start, run, limits[run]));
    const rain = weather.rain[day - weather.first] ?? 0;
    const water = given.get(day) ?? 0;
    const steps = stepsOf(keeper, depletions, demand, limits, loss, [rain, water]);
    depletions = steps.map((step, run) =>
      step.depletion_mm * (unmeasured.has(day) ? LEFT_BY_UNMEASURED[run] : 1));
    const isFilled = !isToday && weather.air[day - weather.first].how === "filled";
    const came = { rain, water, isMeasured: !unmeasured.has(day), et0: loss[MIDDLE], isFilled };
    lines.push(lineOf(day, depletions, limits, steps, came));
  }
  return lines;
}

/**
 * Millimetres by day, and the days on which a watering was not measured.
 * @param {Keeper} keeper @param {number} first
 */
function givenSince({ context, ground }, first) {
  /** @type {Map<number, number>} */
  const given = new Map();
  const unmeasured = new Set();
  for (const event of eventsInDays(context, "water", first, context.today)) {
    const depth = depthGiven(ground, event);
    if (depth === null) unmeasured.add(event.day);
    else given.set(event.day, (given.get(event.day) ?? 0) + depth);
  }
  return { given, unmeasured };
}

/** What the plants ask of the soil on a day. @param {Keeper} keeper @param {number} day */
export const demandFor = ({ thirsts, startRootM }, day) => demandOn(thirsts, day, startRootM);

/**
 * What they would take with water enough.
 * @param {Keeper} keeper @param {Demand} demand @param {number} et0Mm
 */
export const thirstFor = ({ ground }, demand, et0Mm) =>
  Math.min(demand.kc * ground.crown_factor * et0Mm, MOST_MM);

/**
 * Of each run: water in reach when the soil is full, and the share of it that may go.
 * @param {Keeper} keeper @param {Demand} demand @param {readonly number[]} loss
 * @returns {Limits[]}
 */
export function limitsOf(keeper, demand, loss) {
  const { ground, followsThirst } = keeper;
  return RUNS.map((run) => {
    const held = ground.held[run];
    const taw = ground.is_container
      ? held
      : totalAvailableWater(held, 0, demand.root_m) * ground.wetted_share;
    const p = followsThirst
      ? depletionFraction(demand.p, thirstFor(keeper, demand, loss[run]))
      : demand.p;
    return { taw, p };
  });
}

/** @param {Keeper} keeper @param {string} start @param {number} run @param {Limits} limits */
function atStart({ startShares }, start, run, { taw, p }) {
  const most = start === "planting" ? readilyAvailableWater(taw, p) : taw;
  return most * Math.min(Math.max(startShares[run], 0), 1);
}

/**
 * One day of each run, with the rain and the water that came.
 * @param {Keeper} keeper @param {number[]} depletions @param {Demand} demand
 * @param {Limits[]} limits @param {readonly number[]} loss @param {[number, number]} cameMm
 */
function stepsOf(keeper, depletions, demand, limits, loss, [rainMm, givenMm]) {
  const counted = effectiveRain(rainMm, loss[MIDDLE]);
  return RUNS.map((run) => {
    const { taw, p } = limits[run];
    const thirst = thirstFor(keeper, demand, loss[run]);
    return waterDay(Math.min(depletions[run], taw), taw, p, counted, givenMm, thirst);
  });
}

/**
 * One literal, so that thousands of lines share a form that engines are quick with.
 * @param {number} day @param {number[]} depletions @param {Limits[]} limits
 * @param {WaterDay[]} steps @param {{rain: number, water: number, isMeasured: boolean,
 *   et0: number, isFilled: boolean}} came
 * @returns {Line}
 */
function lineOf(day, depletions, limits, steps, came) {
  return {
    day,
    depletion_mm: depletions[MIDDLE],
    raw_mm: readilyAvailableWater(limits[MIDDLE].taw, limits[MIDDLE].p),
    taw_mm: limits[MIDDLE].taw,
    dry_mm: depletions[DRY],
    dry_raw_mm: readilyAvailableWater(limits[DRY].taw, limits[DRY].p),
    wet_mm: depletions[WET],
    wet_raw_mm: readilyAvailableWater(limits[WET].taw, limits[WET].p),
    used_mm: steps[MIDDLE].etc_adjusted_mm,
    ks: steps[MIDDLE].ks,
    drained_mm: steps[MIDDLE].drainage_mm,
    surely_drained_mm: steps[DRY].drainage_mm,
    rain_mm: came.rain,
    given_mm: came.water,
    is_measured: came.isMeasured,
    et0_mm: came.et0,
    is_filled: came.isFilled,
  };
}

/** The last watering of the bed that lies behind us. @param {Context} context */
export function lastWatering(context) {
  const events = context.byKind.get("water") ?? [];
  let at = events.length - 1;
  while (at >= 0 && events[at].day > context.today) at -= 1;
  return at >= 0 ? events[at] : null;
}
