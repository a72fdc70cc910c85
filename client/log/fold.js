// @ts-check
/**
 * How tellings become a garden, its beds and plantings: the twin of server/shedbook/log/fold.py.
 */

import { parseDay } from "./moment.js";

/** @import { Bed, LoggedEvent, Planting } from "../types.js" */
/** @import { Telling } from "./telling.js" */

export const GARDEN_FIELDS = [
  "name", "latitude_deg", "longitude_deg", "elevation_m", "zone", "last_frost", "walk_order",
  "stale_after_hours", "thresholds", "crops",
];
const BED_FIELDS = [
  "name", "type", "length_m", "width_m", "volume_l", "drainage", "sun_hours", "water_method",
  "flow_l_per_min", "beside", "visit_last", "retired_on",
];
const PLANTING_FIELDS = [
  "crop", "variety", "seed_lot", "days_to_maturity", "ripening_colours", "resistances", "plants",
  "rows", "in_row_m", "between_rows_m", "planned_on", "ended_on",
];
const PLANT_FIELDS = ["label", "note"];

const DAY_NAMES = new Map([
  ["sow", "sown_day"],
  ["emerge", "emerged_day"],
  ["transplant", "transplanted_day"],
  ["pick", "first_pick_day"],
]);

/**
 * Tellings by their roots' stamps.
 * @param {Telling[]} tellings
 */
function inOrder(tellings) {
  return [...tellings].sort((a, b) => {
    if (a.order !== b.order) return a.order < b.order ? -1 : 1;
    return a.id < b.id ? -1 : 1;
  });
}

/**
 * Those not taken back; a voided making hides its subject, but still says what it was.
 * @param {Telling[]} tellings @param {string} [makingId]
 */
export function counted(tellings, makingId = "") {
  return tellings.filter((telling) => !telling.voided || telling.id === makingId);
}

/**
 * Each field as it was written last; null clears it.
 * @param {Telling[]} tellings @param {string[]} names
 * @returns {Record<string, any>}
 */
export function foldFields(tellings, names) {
  /** @type {Record<string, any>} */
  const fields = {};
  for (const telling of inOrder(tellings)) {
    for (const name of names) {
      if (telling.details[name] !== undefined) fields[name] = telling.details[name];
    }
  }
  for (const name of names) if (fields[name] === null) delete fields[name];
  return fields;
}

/**
 * A bed or planting whose making was voided, or of which nothing else stands, is hidden.
 * @param {string} subjectId @param {Telling[]} tellings
 */
function isHidden(subjectId, tellings) {
  let hidden = true;
  for (const telling of tellings) {
    if (telling.voided && telling.id === subjectId) return true;
    if (!telling.voided) hidden = false;
  }
  return hidden;
}

/**
 * A bed from all that was written about it.
 * @param {string} bedId @param {Telling[]} tellings
 * @returns {Bed}
 */
export function foldBed(bedId, tellings) {
  const fields = foldFields(counted(tellings, bedId), BED_FIELDS);
  return { id: bedId, hidden: isHidden(bedId, tellings), ...fields };
}

/**
 * A planting from what was written about it and its plants, and from its events.
 * @param {string} plantingId @param {Telling[]} tellings @param {LoggedEvent[]} events
 * @returns {Planting}
 */
export function foldPlanting(plantingId, tellings, events) {
  const written = tellings.filter((telling) => telling.kind === "planting");
  const hidden = isHidden(plantingId, written);
  const makings = counted(written, plantingId);
  /** @type {Planting} */
  const planting = { id: plantingId, hidden, standing: false, removed: {} };
  Object.assign(planting, foldFields(makings, PLANTING_FIELDS));
  const bed = bedOf(makings, events);
  if (bed !== null) planting.bed = bed;
  const labels = labelsOf(tellings.filter((telling) => telling.kind === "plant"));
  if (Object.keys(labels).length > 0) planting.labels = labels;
  setDays(planting, events);
  setRemoved(planting, events);
  const endedOn = /** @type {string | undefined} */ (planting.ended_on);
  if (endedOn !== undefined) planting.until_day = parseDay(endedOn);
  const isThere = planting.from_day !== undefined && planting.until_day === undefined;
  planting.standing = isThere && !hidden;
  return planting;
}

/**
 * The ordinals of the plants that were not removed; none when their number is not known.
 * @param {Planting} planting
 * @returns {number[]}
 */
export function livePlants(planting) {
  const live = [];
  for (let plant = 1; plant <= (planting.plants ?? 0); plant += 1) {
    if (planting.removed[plant] === undefined) live.push(plant);
  }
  return live;
}

/**
 * The bed written last, by a planting entry or by planting out.
 * @param {Telling[]} makings @param {LoggedEvent[]} events
 * @returns {string | null}
 */
function bedOf(makings, events) {
  /** @type {{order: string, id: string, bed: string} | null} */
  let last = null;
  /** @param {string} order @param {string} id @param {string | undefined} bed */
  const write = (order, id, bed) => {
    if (bed === undefined) return;
    const isLast = last === null || order > last.order || (order === last.order && id > last.id);
    if (isLast) last = { order, id, bed };
  };
  for (const { order, id, subjects } of makings) write(order, id, subjects.bed);
  for (const { kind, order, id, bed } of events) {
    if (kind === "transplant") write(order, id, bed);
  }
  return last === null ? null : /** @type {{bed: string}} */ (last).bed;
}

/**
 * @param {Telling[]} tellings
 * @returns {Record<string, Record<string, string>>}
 */
function labelsOf(tellings) {
  /** @type {Map<number, Telling[]>} */
  const byPlant = new Map();
  for (const telling of tellings) {
    for (const plant of telling.subjects.plants ?? []) {
      byPlant.set(plant, [...(byPlant.get(plant) ?? []), telling]);
    }
  }
  /** @type {Record<string, Record<string, string>>} */
  const labels = {};
  for (const [plant, own] of byPlant) {
    const fields = foldFields(counted(own), PLANT_FIELDS);
    if (Object.keys(fields).length > 0) labels[plant] = fields;
  }
  return labels;
}

/** @param {Planting} planting @param {LoggedEvent[]} events */
function setDays(planting, events) {
  for (const event of events) {
    const name = DAY_NAMES.get(event.kind);
    if (name !== undefined) setEarliest(planting, name, event.day);
    const isDirect = event.kind === "sow" && event.details.place === "direct";
    if (event.kind === "transplant" || isDirect) setEarliest(planting, "from_day", event.day);
  }
}

/**
 * Each removed plant with its first day of removal, and the day when the last one went.
 * @param {Planting} planting @param {LoggedEvent[]} events
 */
function setRemoved(planting, events) {
  const count = planting.plants ?? 0;
  const removed = planting.removed;
  const all = livePlants(planting);
  for (const event of events) {
    if (event.kind !== "remove_plant") continue;
    if (event.plants === undefined && count === 0) setEarliest(planting, "until_day", event.day);
    for (const plant of event.plants ?? all) {
      if (removed[plant] === undefined || event.day < removed[plant]) removed[plant] = event.day;
    }
  }
  const gone = all.map((plant) => removed[plant]).filter((day) => day !== undefined);
  if (count > 0 && gone.length === count) planting.until_day = Math.max(...gone);
}

/** @param {Planting} planting @param {string} name @param {number} day */
function setEarliest(planting, name, day) {
  const known = /** @type {number | undefined} */ (planting[name]);
  if (known === undefined || day < known) planting[name] = day;
}
