// @ts-check
/**
 * The catch of a trap a night, against the catch from which to act.
 * Twin of server/shedbook/rules/trap_catch.py.
 */
import { finding, keyPrefix, reason } from "./finding.js";
import { days, findFor, number, text } from "./match.js";
import { catchLimit } from "./organisms.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./organisms.js").CatchLimit} CatchLimit */
/** @typedef {{trap: string, name: string, readings: Event[]}} Group */

const NIGHTS_A_WEEK = 7;

/**
 * One finding for each organism in each trap that was read lately.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function trapCatch(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const since = context.today - days(context, rule, "window_days");
  /** @type {Map<string, Group>} */
  const groups = new Map();
  for (const event of findFor(context, { kind: "trap_read" }, planting)) {
    const trap = text(event.details.trap) ?? "";
    const name = text(event.details.organism) ?? "";
    const key = JSON.stringify([trap, name]);
    const group = groups.get(key) ?? { trap, name, readings: [] };
    groups.set(key, group);
    group.readings.push(event);
  }
  return [...groups.values()].flatMap((group) => {
    const last = group.readings[group.readings.length - 1];
    const isTold = context.declined.has(keyPrefix(context, rule) + last.id);
    if (!group.name || last.day < since || isTold) return [];
    const made = findingOf(context, rule, planting, group);
    // A trap of the whole garden is only told of where a threshold is known.
    const isPlaced = last.bed !== undefined || last.planting !== undefined;
    return isPlaced || made.message.values.limit_a_night !== undefined ? [made] : [];
  });
}

/**
 * The nights of a reading: as logged, else since the trap was hung or read before.
 * @param {Event[]} readings @param {number} at @param {Event[]} hung
 */
function nightsOf(readings, at, hung) {
  const logged = number(readings[at].details.nights);
  if (logged !== null) return logged > 0 ? logged : null;
  const { day } = readings[at];
  let before = -Infinity;
  for (const one of [...readings.slice(0, at), ...hung]) {
    if (one.day < day) before = Math.max(before, one.day);
  }
  return before === -Infinity ? null : day - before;
}

/**
 * @param {Context} context @param {Rule} rule @param {Planting} planting @param {Group} group
 * @returns {Finding}
 */
function findingOf(context, rule, planting, { trap, name, readings }) {
  const hung = findFor(context, { kind: "trap_set" }, planting)
    .filter((event) => event.details.trap === trap);
  const sort = hung.length ? text(hung[hung.length - 1].details.trap_kind) : null;
  const threshold = catchLimit(context, planting, name, sort ?? "");
  const { used, nights, total } = readingsOf(readings, hung, threshold.nights);
  const last = readings[readings.length - 1];
  /** @type {Record<string, unknown>} */
  const values = { organism: name, trap };
  if (threshold.limit !== null) values.limit_a_night = threshold.limit;
  const why = [reason("done.trap_read", { done_day: last.day })];
  if (nights > 0) {
    Object.assign(values, { a_night: total / nights, a_week: (total / nights) * NIGHTS_A_WEEK });
    why.push(reason("scouting.catch", { total, nights, a_night: total / nights }));
  }
  why.push(...limitReasons(planting, threshold, sort));
  const { answer, state } = answerOf(threshold, nights, total);
  if (answer === "few_nights") {
    why.push(reason("scouting.more_nights", { nights, needed: threshold.nights }));
  }
  if (state === "due") why.push(reason("scouting.before_acting"));
  const made = finding(context, rule, last.id, state, values, why, used);
  made.message.key = `${rule.says ?? rule.shape}.${answer}`;
  return made;
}

/**
 * The latest readings that make up the wanted nights, with their nights and their catch.
 * @param {Event[]} readings @param {Event[]} hung @param {number} wanted
 */
function readingsOf(readings, hung, wanted) {
  /** @type {Event[]} */
  const used = [];
  let nights = 0;
  let total = 0;
  for (let at = readings.length - 1; at >= 0; at -= 1) {
    const ownNights = nightsOf(readings, at, hung);
    const count = number(readings[at].details.count);
    if (ownNights === null || count === null || count < 0) break;
    used.unshift(readings[at]);
    nights += ownNights;
    total += count;
    if (nights >= wanted) break;
  }
  return { used: used.length ? used : readings.slice(-1), nights, total };
}

/**
 * @param {CatchLimit} threshold @param {number} nights @param {number} total
 * @returns {{answer: string, state: Finding["state"]}}
 */
function answerOf(threshold, nights, total) {
  if (nights <= 0) return { answer: "no_nights", state: "unknown" };
  if (threshold.limit === null) return { answer: "no_catch_limit", state: "unknown" };
  if (nights < threshold.nights) return { answer: "few_nights", state: "unknown" };
  if (total / nights >= threshold.limit) return { answer: "catch_above", state: "due" };
  return { answer: "catch_below", state: "noted" };
}

/**
 * The catch from which to act, with its source, or that there is none.
 * @param {Planting} planting @param {CatchLimit} threshold @param {string | null} sort
 */
function limitReasons(planting, threshold, sort) {
  const row = /** @type {import("./organisms.js").Catch | null} */ (threshold.row);
  if (threshold.limit === null) {
    return [reason(sort ? "scouting.set_catch" : "scouting.sort_of_trap")];
  }
  if (row === null) return [reason("scouting.own_catch", { limit_a_night: threshold.limit })];
  const made = [
    reason("scouting.limit_catch", {
      limit_a_night: threshold.limit,
      over_nights: row.over_nights,
      trap_sort: row.trap_kind,
      crop: planting.crop ?? null,
      threshold_region: row.region,
      threshold_source: row.source,
    }),
  ];
  if (row.note !== undefined) made.push(reason("scouting.limit_note", { limit_note: row.note }));
  return made;
}
