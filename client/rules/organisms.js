// @ts-check
/**
 * What is known of a pest, a disease or a helper: what to count, and from when on to act.
 * Twin of server/shedbook/rules/organisms.py.
 */
import { reason } from "./finding.js";
import { familyOf, number, own, text } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {"share" | "mean"} Measure */
/**
 * @typedef {{crops?: string[], families?: string[], note?: string, region: string,
 *   source: string}} Cited
 * @typedef {Cited & {measure: Measure, per: string, limit: number}} Threshold
 * @typedef {Cited & {trap_kind: string, limit_per_night: number, over_nights: number}} Catch
 * @typedef {{measure: Measure, per: string, is_helpful?: boolean, is_disease?: boolean, thresholds?: Threshold[],
 *   catches?: Catch[]}} Organism
 * @typedef {{measure: Measure, per: string, is_disease: boolean, limit: number | null,
 *   row: Cited | null}} PlantLimit
 * @typedef {{limit: number | null, nights: number, row: Cited | null}} CatchLimit
 */

const OF_PLANTS = "scout_threshold";
const OF_TRAPS = "catch_threshold";
/** Counts of fewer than one on ten units are told for a hundred of them. */
const RARE = 0.1;
/** What an organism that nobody has written down is counted by. @type {Organism} */
const NOT_LISTED = { measure: "share", per: "plant" };

/**
 * The row of an organism, or what stands in for it when a grower gave it a name of its own.
 * @param {Context} context @param {string} name
 */
export const organismOf = (context, name) =>
  /** @type {Organism} */ (own(context.rulebook.organisms, name) ?? NOT_LISTED);

/**
 * Was it a helper that was counted: by what was logged, or by what is known of it?
 * @param {Context} context @param {Event} event
 */
export function isHelpful(context, event) {
  const name = text(event.details.organism);
  if (event.details.helpful === true) return true;
  return name !== null && organismOf(context, name).is_helpful === true;
}

/**
 * The action threshold on this crop; `limit` is null where there is none.
 * @param {Context} context @param {Planting} planting @param {string} name
 * @returns {PlantLimit}
 */
export function plantLimit(context, planting, name) {
  const row = organismOf(context, name);
  const found = firstThatFits(context, planting, row.thresholds ?? []);
  const { measure, per } = found ?? row;
  const isDisease = row.is_disease === true;
  const shown = { measure, per, is_disease: isDisease, limit: found?.limit ?? null, row: found };
  return withOwn(context, shown, `${OF_PLANTS}.${name}`);
}

/**
 * The catch a night from which to act; `limit` is null where there is none.
 * @param {Context} context @param {Planting} planting @param {string} name @param {string} trap
 * @returns {CatchLimit}
 */
export function catchLimit(context, planting, name, trap) {
  const rows = (organismOf(context, name).catches ?? []).filter((row) => row.trap_kind === trap);
  const found = firstThatFits(context, planting, rows);
  const shown = {
    limit: found?.limit_per_night ?? null,
    nights: found?.over_nights ?? 1,
    row: found,
  };
  return withOwn(context, shown, `${OF_TRAPS}.${name}`);
}

/**
 * The threshold with its source, or that there is none.
 * @param {Planting} planting @param {PlantLimit} threshold
 */
export function limitReasons(planting, threshold) {
  const { row } = threshold;
  if (threshold.limit === null) {
    // No count decides what to do about a disease.
    return threshold.is_disease ? [] : [reason("scouting.set_your_own")];
  }
  const measure = isRare(threshold) ? "rare" : threshold.measure;
  const values = limitValues(threshold);
  if (row === null) return [reason(`scouting.own_${measure}`, values)];
  const cited = {
    crop: planting.crop ?? null, threshold_region: row.region, threshold_source: row.source,
  };
  const made = [reason(`scouting.limit_${measure}`, { ...values, ...cited })];
  if (row.note !== undefined) made.push(reason("scouting.limit_note", { limit_note: row.note }));
  return made;
}

/**
 * The limit under the name of its measure, and what it is counted on.
 * @param {PlantLimit} threshold
 * @returns {Record<string, unknown>}
 */
export function limitValues(threshold) {
  const { limit: limitOf, measure, per } = threshold;
  if (limitOf === null) return { per_what: per };
  const values = { per_what: per, [`limit_${measure}`]: limitOf };
  return isRare(threshold) ? { ...values, limit_per_hundred: limitOf * 100 } : values;
}

/**
 * Is the limit a count so low that it is told for a hundred units?
 * @param {PlantLimit} threshold
 */
export const isRare = ({ limit: limitOf, measure }) =>
  limitOf !== null && measure === "mean" && limitOf < RARE;

/**
 * The garden's own threshold goes before the published one.
 * @template {{limit: number | null, row: Cited | null}} Shown
 * @param {Context} context @param {Shown} shown @param {string} key
 * @returns {Shown}
 */
function withOwn(context, shown, key) {
  const chosen = number(own(context.view.settings.thresholds, key));
  return chosen === null || chosen < 0 ? shown : { ...shown, limit: chosen, row: null };
}

/**
 * @template {Cited} Row
 * @param {Context} context @param {Planting} planting @param {Row[]} rows
 * @returns {Row | null}
 */
function firstThatFits(context, planting, rows) {
  const family = familyOf(context, planting);
  const fits = (/** @type {Row} */ { crops, families }) =>
    (!crops || (planting.crop !== undefined && crops.includes(planting.crop)))
    && (!families || (family !== null && families.includes(family)));
  return rows.find(fits) ?? null;
}
