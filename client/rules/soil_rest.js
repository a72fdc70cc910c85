// @ts-check
/**
 * Years between a trouble of the soil that was seen in a bed and the next crop it lives on.
 * Twin of server/shedbook/rules/soil_rest.py.
 */
import { addYears } from "../log/moment.js";
import { finding, keyPrefix, reason } from "./finding.js";
import {
  advice, hostsOf, isHost, lastHost, listed, troublesSeen, yearsApart,
} from "./hosts.js";
import { compareText, days, familyOf, hasEnded } from "./match.js";
import { startDay } from "./timing.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("../types.js").Message} Reason */

/**
 * For a host, a flag while the years run and a note afterwards; never that it is over.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function soilRest(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const start = startDay(planting);
  if (start === null || context.view.bed === null || hasEnded(planting, context.today)) return [];
  return byName(troublesSeen(context)).flatMap(([trouble, events]) => {
    const seen = events.filter(
      (event) => event.day <= start && event.planting !== planting.id);
    if (!seen.length || context.declined.has(keyPrefix(context, rule) + trouble)) return [];
    return ofTrouble(context, rule, trouble, seen, start);
  });
}

/**
 * @template T
 * @param {Map<string, T>} named
 */
export const byName = (named) =>
  [...named].sort(([one], [other]) => compareText(one, other));

/**
 * @param {Context} context @param {Rule} rule @param {string} trouble @param {Event[]} seen
 * @param {number} start
 * @returns {Finding[]}
 */
function ofTrouble(context, rule, trouble, seen, start) {
  const planting = /** @type {Planting} */ (context.view.planting);
  /** @type {Record<string, unknown>} */
  let values = { trouble, crop: planting.crop ?? null, start_day: start };
  const last = seen[seen.length - 1];
  const why = [reason("soil.seen", { trouble, seen_day: last.day, kind: last.kind })];
  /** @type {{id: string}[]} */
  const proof = [last, planting];
  if (!isHost(context, planting, trouble)) {
    if (familyOf(context, planting) !== null) return [];
    why.push(reason("rest.no_family"));
    return [finding(context, rule, trouble, "unknown", values, why, proof)];
  }
  const years = yearsApart(context, rule, trouble);
  if (years === null) {
    why.push(...advice(context, rule, trouble), reason("soil.set_years"));
    return [finding(context, rule, trouble, "unknown", values, why, proof)];
  }
  const { since, by } = lastHost(context, trouble, seen, earlier(context, rule, start));
  values = { ...values, since_day: since, years };
  if (by !== null) {
    proof.push(by);
    why.push(grown(by, trouble));
  }
  if (by !== null && by.until_day === undefined) {
    why.push(...advice(context, rule, trouble), reason("soil.change"));
    return [told(context, rule, trouble, "flagged", "stands", values, why, proof)];
  }
  const free = addYears(since, years);
  values = { ...values, free_day: free };
  why.push(reason("soil.counted", values), ...advice(context, rule, trouble));
  if (start < free) {
    why.push(reason("soil.change"));
    return [told(context, rule, trouble, "flagged", "flagged", values, why, proof)];
  }
  const made = told(context, rule, trouble, "noted", "passed", values, why, proof);
  return [{ ...made, settles: null }];
}

/**
 * @param {Context} context @param {Rule} rule @param {string} trouble
 * @param {Finding["state"]} state @param {string} says @param {Record<string, unknown>} values
 * @param {Reason[]} why @param {{id: string}[]} proof
 */
function told(context, rule, trouble, state, says, values, why, proof) {
  const made = finding(context, rule, trouble, state, values, why, proof);
  made.message.key = `soil.${says}`;
  return made;
}

/**
 * Plantings of earlier seasons, or of this one when they were out before.
 * @param {Context} context @param {Rule} rule @param {number} start
 */
function earlier(context, rule, start) {
  const season = days(context, rule, "same_season_days");
  return context.view.residents.filter((one) =>
    one.id !== context.view.planting?.id && one.from_day !== undefined
    && (one.from_day < start - season || (one.until_day ?? start + 1) <= start));
}

/** @param {Planting} by @param {string} trouble */
function grown(by, trouble) {
  const values = { other_planting: by.id, trouble };
  return by.until_day === undefined
    ? reason("soil.host_stands", values)
    : reason("soil.host_stood", { ...values, until_day: by.until_day });
}

/**
 * A note for each earlier planting of another family that shares a trouble of the soil.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function sharedHosts(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const start = startDay(planting);
  if (start === null || context.view.bed === null || hasEnded(planting, context.today)) return [];
  const own = familyOf(context, planting);
  const seen = troublesSeen(context);
  const found = [];
  for (const other of earlier(context, rule, start)) {
    const family = familyOf(context, other);
    if (family === null || family === own) continue;
    const shared = listed(context).filter((trouble) =>
      isHost(context, planting, trouble) && isHost(context, other, trouble) && !seen.has(trouble)
      && isWithinYears(context, rule, trouble, other.until_day, start));
    if (shared.length && !context.declined.has(keyPrefix(context, rule) + other.id)) {
      found.push(sharing(context, rule, other, shared, start));
    }
  }
  return found;
}

/**
 * @param {Context} context @param {Rule} rule @param {string} trouble
 * @param {number | undefined} until @param {number} start
 */
function isWithinYears(context, rule, trouble, until, start) {
  const years = yearsApart(context, rule, trouble);
  return years !== null && (until === undefined || addYears(until, years) > start);
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} other @param {string[]} shared
 * @param {number} start
 */
function sharing(context, rule, other, shared, start) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const values = {
    crop: planting.crop ?? null, other_planting: other.id, troubles: shared, start_day: start,
  };
  const why = shared.map((trouble) => reason("shared.years", {
    trouble,
    years: yearsApart(context, rule, trouble),
    source: hostsOf(context)[trouble].host_sources[0],
  }));
  why.push(reason("shared.not_seen"));
  const made = finding(context, rule, other.id, "noted", values, why, [planting, other]);
  return { ...made, settles: null };
}
