// @ts-check
/**
 * How regular a kind of event is over the last days: gaps, their spread, hours and methods.
 * Twin of server/shedbook/rules/evenness.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import { DAY_S, HOUR_S, standingPlantings, startOf } from "./gap.js";
import {
  concerns, days, find, limit, livePlants, namedPlants, onceEach, since, text,
} from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

/** A spread is compared and shown in thousandths, so that no last bit decides. */
const STEPS = 1000;

/**
 * The figures of the window, flagged where a limit is passed, unknown where too few.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function evenness(context, rule) {
  const plantings = standingPlantings(context);
  const window = days(context, rule, "window_days");
  const opens = context.now - window * DAY_S;
  const declined = context.declined.get(`${keyPrefix(context, rule)}window`);
  if (!plantings.length || (declined !== undefined && declined >= opens)) return [];
  const starts = plantings.map((planting) => startOf(context, planting));
  const counted = countedOf(context, rule, plantings, Math.max(opens, Math.min(...starts)));
  const gaps = counted.slice(1).map((event, index) =>
    (event.instant - counted[index].instant) / HOUR_S);
  const needed = Math.max(limit(context, rule, "min_gaps") ?? 0, 1);
  const size = { window_days: window, gaps: gaps.length };
  if (gaps.length < needed) {
    const why = [reason("evenness.few", { ...size, needed })];
    return [finding(context, rule, "window", "unknown", size, why, counted)];
  }
  const running = (context.now - counted[counted.length - 1].instant) / HOUR_S;
  const figures = spreadOf(gaps, running);
  const shares = sharesOf(context, rule, counted);
  const values = { ...size, ...figures, ...shares };
  const over = overLimits(context, rule, figures);
  const why = [
    reason("evenness.gaps", values),
    ...over,
    ...shareReasons(context, rule, shares),
  ];
  const state = over.length ? "flagged" : "noted";
  return [finding(context, rule, "window", state, values, why, counted)];
}

/**
 * The rounds of every planting from the start to now, earliest first, each once.
 * @param {Context} context @param {Rule} rule @param {Planting[]} plantings @param {number} start
 */
function countedOf(context, rule, plantings, start) {
  const events = [];
  for (const condition of rule.params.counts) {
    const found = find(context, condition);
    events.push(...found.slice(since(found, start), since(found, context.now + 1)));
  }
  const sorted = onceEach(events);
  return onceEach(plantings.flatMap((planting) => rounds(context, planting, sorted)));
}

/**
 * The events by which every living plant was reached once more; plant by plant adds up.
 * @param {Context} context @param {Planting} planting @param {Event[]} events
 */
function rounds(context, planting, events) {
  const live = livePlants(planting, context.today);
  /** The plants not reached yet, null while that is all of them. @type {Set<number> | null} */
  let waiting = null;
  const found = [];
  for (const event of events) {
    if (!concerns(event, planting)) continue;
    const named = namedPlants(event);
    if (named !== null) {
      waiting = waiting ?? new Set(live);
      for (const plant of named) waiting.delete(plant);
      if (waiting.size) continue;
    }
    found.push(event);
    waiting = null;
  }
  return found;
}

/**
 * The longest gap counts the one still running; mean and spread only those that closed.
 * @param {number[]} gaps @param {number} running
 */
function spreadOf(gaps, running) {
  let total = 0;
  let longest = running;
  for (const gap of gaps) {
    total += gap;
    longest = Math.max(longest, gap);
  }
  const mean = total / gaps.length;
  let squares = 0;
  for (const gap of gaps) squares += (gap - mean) * (gap - mean);
  const deviation = gaps.length > 1 ? Math.sqrt(squares / (gaps.length - 1)) : 0;
  const cv = mean > 0 ? Math.floor((deviation / mean) * STEPS + 0.5) / STEPS : 0;
  return { longest_gap_hours: longest, mean_gap_hours: mean, spread_share: cv };
}

/**
 * Shares among the events that the grower chose the hour and the method of.
 * @param {Context} context @param {Rule} rule @param {Event[]} counted
 * @returns {{morning_share?: number, overhead_share?: number}}
 */
function sharesOf(context, rule, counted) {
  const chosen = counted.filter((event) => event.kind === rule.params.shares_of);
  if (!chosen.length) return {};
  const before = limit(context, rule, "morning_before_hour") ?? 0;
  const morning = chosen.filter((event) => event.hour < before);
  const usual = text(context.view.bed?.water_method);
  const methods = chosen.map((event) => text(event.details.method) || usual);
  const known = methods.filter((method) => method !== null);
  const shares = { morning_share: morning.length / chosen.length };
  if (!known.length) return shares;
  const overhead = known.filter((method) => method === "overhead");
  return { ...shares, overhead_share: overhead.length / known.length };
}

/**
 * @param {Context} context @param {Rule} rule
 * @param {{longest_gap_hours: number, spread_share: number}} figures
 */
function overLimits(context, rule, figures) {
  const longest = limit(context, rule, "limit_longest_gap_hours");
  const spread = limit(context, rule, "limit_cv");
  const over = [];
  if (longest !== null && figures.longest_gap_hours > longest) {
    const values = { gap_hours: figures.longest_gap_hours, limit_hours: longest };
    over.push(reason("evenness.long_gap", values));
  }
  if (spread !== null && figures.spread_share > spread) {
    over.push(reason("evenness.spread", { spread_share: figures.spread_share, limit_share: spread }));
  }
  return over;
}

/**
 * @param {Context} context @param {Rule} rule
 * @param {{morning_share?: number, overhead_share?: number}} shares
 */
function shareReasons(context, rule, { morning_share, overhead_share }) {
  const made = [];
  if (morning_share !== undefined) {
    const hour = limit(context, rule, "morning_before_hour") ?? 0;
    made.push(reason("evenness.morning", { morning_share, hour }));
  }
  if (overhead_share !== undefined) made.push(reason("evenness.overhead", { overhead_share }));
  return made;
}
