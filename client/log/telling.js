// @ts-check
/**
 * How an entry is read once its corrections are known: the twin of server/shedbook/log/telling.py.
 *
 * An entry that corrects or voids names a *root* entry. The root as it is told last is its
 * *telling*; whatever is folded is folded from tellings, in the order of the roots' stamps, so that
 * the order in which entries arrive decides nothing.
 */

import { parseMoment } from "./moment.js";

/** @import { Entry, LoggedEvent, Subjects } from "../types.js" */

/** @typedef {Record<string, any>} Fields the details of a kind, checked when they came in */
/** @typedef {{order: string, entry: Entry}} Held an entry with the clock that folds go by */

/**
 * A root as it is told last; `voided` when the last word on it took it back.
 * @typedef {object} Telling
 * @property {string} order
 * @property {string} id
 * @property {string} kind
 * @property {Subjects} subjects
 * @property {Fields} details
 * @property {boolean} voided
 * @property {number} day
 * @property {LoggedEvent | null} event
 */

// The highest version of any kind that this program reads.
const KNOWN_VERSION = 1;
export const GARDEN_KINDS = ["garden", "setting"];
export const PLACE_KINDS = ["garden", "setting", "bed", "planting", "plant"];
export const MENDING_KINDS = ["correct", "void"];
export const WEATHER_KINDS = [
  "rain", "leaf_wetness", "air_temperature", "soil_temperature", "day_weather", "forecast",
];
/** Without a bed or planting these hold for the whole garden, as the state of a store does. */
export const GARDEN_WIDE_KINDS = [...WEATHER_KINDS, "store", "trap_set", "trap_read"];
// Events that change what is known of a planting.
export const SHAPING_KINDS = ["sow", "emerge", "transplant", "pick", "remove_plant"];

/**
 * Whether this version understands the entry; what it does not, it keeps and leaves alone.
 * A kind that is not named in this module is an event like any other, which only a rule or a form
 * that knows the kind will look at: so a new kind of work needs no line here.
 * @param {Entry} entry
 */
export function isRead(entry) {
  return typeof entry.version === "number" && entry.version <= KNOWN_VERSION;
}

/**
 * The id of the root that an entry is, corrects or voids.
 * @param {Entry} entry
 * @returns {string}
 */
export function rootOf(entry) {
  const details = /** @type {Fields} */ (entry.details);
  return MENDING_KINDS.includes(entry.kind) ? details.entry : entry.id;
}

/**
 * Whether one entry wins over another, by (order, id).
 * @param {Held} one @param {Held | null} other
 */
export function isLater(one, other) {
  if (other === null || one.order > other.order) return true;
  return one.order === other.order && one.entry.id > other.entry.id;
}

/**
 * The root as the last correction tells it, and whether a later void takes it back.
 * @param {Held} root @param {Held[]} mendings
 * @returns {Telling}
 */
export function tell(root, mendings) {
  /** @type {Held | null} */
  let correct = null;
  /** @type {Held | null} */
  let voiding = null;
  for (const mending of mendings) {
    if (mending.entry.kind === "void") {
      voiding = isLater(mending, voiding) ? mending : voiding;
    } else if (mending.entry.details.kind === root.entry.kind) {
      correct = isLater(mending, correct) ? mending : correct;
    }
  }
  if (voiding !== null && correct !== null && isLater(correct, voiding)) voiding = null;
  const told = correct === null ? root.entry : correct.entry;
  const toldDetails = /** @type {Fields} */ (told.details);
  const details = correct === null ? toldDetails : toldDetails.restated;
  const { kind, id } = root.entry;
  const moment = parseMoment(told.happened_at);
  let event = null;
  if (!PLACE_KINDS.includes(kind) && (voiding === null || kind === "treat")) {
    event = eventOf(root, told, moment, details, voiding);
  }
  const subjects = placeSubjects(root.entry, told);
  const voided = voiding !== null;
  return { order: root.order, id, kind, subjects, details, voided, day: moment.day, event };
}

/**
 * A correction may move an event, but never turn a bed or planting into another one.
 * @param {Entry} root @param {Entry} told
 * @returns {Subjects}
 */
function placeSubjects(root, told) {
  const subjects = told.subjects;
  if (root.kind === "bed") return { ...subjects, bed: root.subjects.bed };
  if (root.kind === "planting" || root.kind === "plant") {
    return { ...subjects, planting: root.subjects.planting };
  }
  return subjects;
}

/**
 * @param {Held} root @param {Entry} told @param {ReturnType<typeof parseMoment>} moment
 * @param {Fields} details @param {Held | null} voiding
 * @returns {LoggedEvent}
 */
function eventOf(root, told, moment, details, voiding) {
  const { day, hour, minute, instant } = moment;
  const { id, kind, person, device } = root.entry;
  /** @type {LoggedEvent} */
  const event = { id, kind, day, hour, minute, instant, order: root.order, details };
  const { bed, planting, plants } = told.subjects;
  if (bed !== undefined) event.bed = bed;
  if (planting !== undefined) event.planting = planting;
  if (plants !== undefined) event.plants = [...plants].sort((a, b) => a - b);
  if (told.answers !== undefined) event.answers = told.answers;
  if (person !== undefined) event.person = person;
  if (device !== undefined) event.device = device;
  if (voiding !== null) {
    const liftedAt = parseMoment(voiding.entry.happened_at).instant;
    event.lifted = { person: voiding.entry.person, instant: liftedAt };
  }
  return event;
}
