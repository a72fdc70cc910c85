// @ts-check
/**
 * What follows well or badly in a bed: another question than what stands well beside.
 * Twin of server/shedbook/rules/follow.py.
 */
import { isOf, toldOfPair } from "./beside.js";
import { keyPrefix, reason } from "./finding.js";
import { troublesSeen } from "./hosts.js";
import { days, hasEnded } from "./match.js";
import { startDay } from "./timing.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./beside.js").Pair} Pair */

/**
 * For each planting that left the bed not long before: a note or a flag, if the row has one.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function follow(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const start = startDay(planting);
  if (start === null || context.view.bed === null || hasEnded(planting, context.today)) return [];
  const found = [];
  const within = days(context, rule, "within_days");
  for (const other of context.view.residents) {
    const until = other.until_day;
    if (until === undefined || until > start || until < start - within) continue;
    const pair = pairOf(context, rule, planting, other);
    if (pair === undefined || context.declined.has(keyPrefix(context, rule) + other.id)) continue;
    const why = [reason("follow.after", { other_planting: other.id, until_day: until })];
    const seen = pair.trouble === undefined ? undefined : lastSeen(context, pair.trouble);
    if (seen) {
      why.push(reason("soil.seen", { trouble: pair.trouble, seen_day: seen.day, kind: seen.kind }));
    }
    found.push(toldOfPair(context, rule, pair, other, why));
  }
  return found;
}

/** @param {Context} context @param {string} trouble @returns {Event | undefined} */
const lastSeen = (context, trouble) => troublesSeen(context).get(trouble)?.at(-1);

/**
 * @param {Context} context @param {Rule} rule @param {Planting} one @param {Planting} other
 * @returns {Pair | undefined}
 */
function pairOf(context, rule, one, other) {
  return rule.params.pairs.find(
    /** @param {Pair} pair */
    (pair) =>
      (pair.trouble === undefined || lastSeen(context, pair.trouble) !== undefined)
      && isOf(context, pair, "", one) && isOf(context, pair, "after_", other),
  );
}
