// @ts-check
/**
 * How tellings become a garden, its beds and plantings: the twin of server/shedbook/log/fold.py.
 */

import { parseDay } from "./moment.js";

/** @import { Bed, LoggedEvent, Planting } from "../types.js" */
/** @import { Telling } from "./telling.js" */

export const GARDEN_FIELDS = [
  "name", "latitude_deg", "longitude_deg", "elevation_m", "zone", "last_frost", "first_frost",
  "region", "walk_order", "stale_after_hours", "thresholds", "crops",
];
const BED_FIELDS = [
  "name", "type", "length_m", "width_m", "volume_l", "drainage", "sun_hours", "water_method",
  "flow_l_per_min", "wetted_percent", "soil_texture", "field_capacity_percent",
  "wilting_point_percent", "drains", "across_m", "edge_m", "near_edge", "beside", "visit_last",
  "retired_on",
];
const PLANTING_FIELDS = [
  "crop", "variety", "seed_lot", "days_to_maturity", "ripening_colours", "resistances",
  "plants", "rows", "in_row_m", "between_rows_m", "pattern", "degree_days_to_pick",
  "planned_on", "ended_on",
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
  Object.assign(planting, placesOf(makings, events));
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
 * Whether the planting may have stood in a bed on a day; in doubt it has.
 * @param {Planting} planting @param {string} bedId @param {number} day
 */
export function wasThere({ beds = [], left = {} }, bedId, day) {
  return beds.includes(bedId) && (left[bedId] === undefined || day <= left[bedId]);
}

/**
 * The bed written last, by a planting entry or by planting out, and all that were written.
 *
 * `left` has the day on which a planting is known to have left a bed. What was sprayed on it there
 * stays on it, so a bed that nobody says it left is one that it may still stand in.
 * @param {Telling[]} makings @param {LoggedEvent[]} events
 * @returns {{bed?: string, beds?: string[], left?: Record<string, number>}}
 */
function placesOf(makings, events) {
  /** @type {{order: string, id: string, bed: string, day: number}[]} */
  const written = [];
  for (const { order, id, day, subjects: { bed } } of makings) {
    if (bed !== undefined) written.push({ order, id, bed, day });
  }
  for (const { kind, order, id, bed, day } of events) {
    if (kind === "transplant" && bed !== undefined) written.push({ order, id, bed, day });
  }
  if (written.length === 0) return {};
  const { bed } = written.reduce((last, one) => {
    const isLater = one.order > last.order || (one.order === last.order && one.id > last.id);
    return isLater ? one : last;
  });
  const beds = [...new Set(written.map((one) => one.bed))].sort();
  /** @type {Record<string, number>} */
  const left = {};
  for (const other of beds) {
    const came = Math.max(...written.filter((one) => one.bed === other).map((one) => one.day));
    const away = written.filter((one) => one.bed !== other && one.day >= came);
    if (other !== bed && away.length > 0) left[other] = Math.min(...away.map((one) => one.day));
  }
  return { bed, beds, ...(Object.keys(left).length > 0 ? { left } : {}) };
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

/**
 * Whether two JSON values are equal, in whatever order their names were written.
 * @param {unknown} one @param {unknown} other
 * @returns {boolean}
 */
export function isSame(one, other) {
  if (one === other) return true;
  if (typeof one !== "object" || typeof other !== "object") return false;
  if (one === null || other === null) return false;
  const [mine, theirs] = [new Map(Object.entries(one)), new Map(Object.entries(other))];
  if (mine.size !== theirs.size) return false;
  for (const [name, value] of mine) {
    if (!theirs.has(name) || !isSame(value, theirs.get(name))) return false;
  }
  return true;
}
