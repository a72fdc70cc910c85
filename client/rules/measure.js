// @ts-check
/**
 * Reads the one value that a row is about: from events, from an event, or from planting or bed.
 * Twin of server/shedbook/rules/measure.py.
 */
import { compareTime, findFor, number } from "./match.js";

/** @typedef {import("./match.js").Condition} Condition */
/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {Condition & {field: string, within_days: number, whose?: string}} Source */
/** @typedef {{own_field?: string, planting_field?: string, bed_field?: string,
 *   days_since?: Condition, of?: Source[], pick?: string, is_word?: boolean}} Asked */
/**
 * A value, how it was come by, the field's name, what its reason tells, what proves it.
 * @typedef {{value: unknown, how: string, field: string, told: Record<string, unknown>,
 *   proof: {id: string}[]}} Reading
 */

/**
 * The value as of a day; `event` is the work that is judged, if there is one.
 * @param {Context} context @param {Asked} asked @param {number} day @param {Event | null} event
 * @returns {Reading}
 */
export function read(context, asked, day, event) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const { bed } = context.view;
  if (asked.own_field !== undefined) {
    return written(event?.details[asked.own_field], asked.own_field, []);
  }
  if (asked.planting_field !== undefined) {
    return written(planting[asked.planting_field], asked.planting_field, [planting]);
  }
  if (asked.bed_field !== undefined) {
    return written(bed?.[asked.bed_field], asked.bed_field, bed === null ? [] : [bed]);
  }
  if (asked.days_since !== undefined) return daysSince(context, planting, asked.days_since, day);
  return picked(context, planting, asked, day);
}

/**
 * @param {unknown} value @param {string} field @param {{id: string}[]} proof
 * @returns {Reading}
 */
const written = (value, field, proof) =>
  ({ value: value ?? null, how: "written", field, told: {}, proof });

/**
 * @param {Context} context @param {Planting} planting @param {Condition} condition
 * @param {number} day
 */
function daysSince(context, planting, condition, day) {
  const last = findFor(context, condition, planting).filter((event) => event.day <= day).at(-1);
  return last === undefined ? written(null, "", []) : written(day - last.day, "", [last]);
}

/**
 * One value out of a window of days: the latest, lowest or highest, or their mean.
 * @param {Context} context @param {Planting} planting @param {Asked} asked @param {number} day
 * @returns {Reading}
 */
function picked(context, planting, asked, day) {
  const sources = /** @type {Source[]} */ (asked.of);
  const how = /** @type {string} */ (asked.pick);
  const { field } = sources[0];
  /** @type {{value: any, event: Event}[]} */
  const seen = [];
  for (const source of sources) {
    const first = day - source.within_days;
    for (const event of findFor(context, source, planting)) {
      if (event.day < first || event.day > day || !isOf(event, source.whose)) continue;
      const value = event.details[source.field] ?? null;
      if (asked.is_word || number(value) !== null) seen.push({ value, event });
    }
  }
  if (!seen.length) return { value: null, how, field, told: {}, proof: [] };
  seen.sort((one, other) => compareTime(one.event, other.event));
  if (how === "mean") {
    const proof = seen.map(({ event }) => event);
    return { value: mean(seen), how, field, told: { count: seen.length }, proof };
  }
  let chosen = seen[seen.length - 1];
  for (const one of seen) {
    const isBetter = (how === "lowest" && one.value < chosen.value)
      || (how === "highest" && one.value > chosen.value);
    if (isBetter) chosen = one;
  }
  const { value, event } = chosen;
  return { value, how, field, told: { done_day: event.day }, proof: [event] };
}

/**
 * A tray's own air and soil are named with its planting, those of a bed or garden without.
 * @param {Event} event @param {string | undefined} whose
 */
const isOf = (event, whose) =>
  whose === undefined || (event.planting !== undefined) === (whose === "tray");

/** @param {{value: number}[]} seen */
function mean(seen) {
  let total = 0;
  for (const { value } of seen) total += value;
  return total / seen.length;
}
