// @ts-check
/**
 * How often, how soon and in what order a product is used on the same plants. The label's own
 * figures decide, as they were written down; where they were not, that is unknown. Products that
 * work in the same way count as one only where the group on the label was written down.
 * Twin of server/shedbook/rules/applications.py.
 */
import { finding, keyPrefix, namePlants, reason } from "./finding.js";
import { covers, days, find, livePlants, number, plantGroups, text } from "./match.js";
import { isOn } from "./reach.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/**
 * One answer about some plants; the same answer about others adds its plants.
 * @typedef {{ordinal: string, state: Finding["state"], values: Record<string, unknown>,
 *   why: import("./finding.js").Reason[], proof: Event[]}} Told
 */

/**
 * The season's count, the days between two, or the same group in a row, as the row asks.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function applications(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const done = find(context, rule.params.of)
    .filter((event) => event.lifted === undefined && isOn(event, planting));
  const live = livePlants(planting, context.today);
  /** @type {Map<string, Told & {plants: number[]}>} */
  const told = new Map();
  for (const plants of plantGroups(live, done)) {
    const mine = done.filter((event) => covers(context, event, plants[0]));
    for (const one of seriesOf(rule, mine).flatMap((series) => answers(context, rule, series))) {
      const known = told.get(one.ordinal);
      if (known) known.plants.push(...plants);
      else told.set(one.ordinal, { ...one, plants: [...plants] });
    }
  }
  const prefix = keyPrefix(context, rule);
  return [...told.values()].filter((one) => !context.declined.has(prefix + one.ordinal))
    .map((one) => {
      const { ordinal, state, values, why, proof, plants } = one;
      const made = finding(context, rule, ordinal, state, values, why, proof);
      namePlants(made, plants, live);
      return made;
    });
}

/**
 * Events that count together: those alike in every field of `per`.
 * @param {Rule} rule @param {Event[]} events
 */
function seriesOf(rule, events) {
  /** @type {Map<string, Event[]>} */
  const found = new Map();
  for (const event of events) {
    const named = rule.params.per.map((/** @type {string} */ one) => text(event.details[one]));
    if (named.includes(null)) continue;
    const key = named.join("\n");
    const series = found.get(key);
    if (series) series.push(event);
    else found.set(key, [event]);
  }
  return [...found.values()];
}

/** @param {Context} context @param {Rule} rule @param {Event[]} series @returns {Told[]} */
function answers(context, rule, series) {
  if (rule.params.most_field !== undefined) return counted(rule, series);
  if (rule.params.interval_field !== undefined) return intervals(context, rule, series);
  return runOf(context, rule, series);
}

/**
 * The label's figure as it was written down last.
 * @param {Event[]} series @param {string} name
 */
function lastWritten(series, name) {
  const found = series.map((event) => number(event.details[name]));
  return found.filter((one) => one !== null && one >= 0).at(-1) ?? null;
}

/** @param {Event} event */
const doneOn = (event) => reason("done.treat", { done_day: event.day });

/** @param {Event} event */
const productOf = (event) => event.details.product ?? null;

/**
 * How often it was used against how often the label allows.
 * @param {Rule} rule @param {Event[]} series @returns {Told[]}
 */
function counted(rule, series) {
  const most = lastWritten(series, rule.params.most_field);
  const times = series.length;
  const values = { times, product: productOf(series[times - 1]) };
  const ordinal = `${series[0].id}.${times}`;
  if (most === null) {
    const why = [reason("applications.no_most")];
    return times > 1 ? [{ ordinal, state: "unknown", values, why, proof: series }] : [];
  }
  const why = [reason("applications.most", { most, times }), ...series.map(doneOn)];
  const state = times > most ? "flagged" : "noted";
  return [{ ordinal, state, values: { ...values, most }, why, proof: series }];
}

/**
 * Uses that came too soon after one another, and from when the next may come.
 * @param {Context} context @param {Rule} rule @param {Event[]} series @returns {Told[]}
 */
function intervals(context, rule, series) {
  const wait = lastWritten(series, rule.params.interval_field);
  const last = series[series.length - 1];
  const { id: ordinal } = last;
  const product = productOf(last);
  if (wait === null) {
    const why = [reason("applications.no_interval")];
    const proof = series.slice(-2);
    return series.length > 1 ? [{ ordinal, state: "unknown", values: { product }, why, proof }] : [];
  }
  const told = days(context, rule, "told_days");
  const found = [];
  for (let at = 1; at < series.length; at += 1) {
    const [earlier, later] = [series[at - 1], series[at]];
    if (later.day - earlier.day < wait && context.today - later.day <= told) {
      found.push(tooSoon(earlier, later, wait));
    }
  }
  const again_day = last.day + wait;
  if (context.today < again_day) {
    const why = [doneOn(last), reason("applications.interval", { interval_days: wait, again_day })];
    const values = { product, again_day };
    found.push({ ordinal, state: /** @type {const} */ ("noted"), values, why, proof: [last] });
  }
  return found;
}

/** @param {Event} earlier @param {Event} later @param {number} wait @returns {Told} */
function tooSoon(earlier, later, wait) {
  const again_day = earlier.day + wait;
  const values = { product: productOf(later), done_day: later.day, again_day };
  const why = [
    doneOn(earlier),
    doneOn(later),
    reason("applications.interval", { interval_days: wait, again_day }),
  ];
  const ordinal = `${earlier.id}.${later.id}`;
  return { ordinal, state: "flagged", values, why, proof: [earlier, later] };
}

/**
 * The same way of working used again and again, with no other between.
 * @param {Context} context @param {Rule} rule @param {Event[]} series @returns {Told[]}
 */
function runOf(context, rule, series) {
  const same = rule.params.same;
  const known = series.filter((event) => text(event.details[same]) !== null);
  const last = known.at(-1);
  if (last === undefined || context.today - last.day > days(context, rule, "told_days")) return [];
  const group = last.details[same];
  let start = known.length - 1;
  while (start > 0 && known[start - 1].details[same] === group) start -= 1;
  const run = known.slice(start);
  if (run.length <= days(context, rule, "most_in_row")) return [];
  const action_scheme = last.details.action_scheme ?? null;
  const values = { times: run.length, group, action_scheme };
  const why = [...run.map(doneOn), reason("applications.change")];
  return [{ ordinal: last.id, state: "flagged", values, why, proof: run }];
}
