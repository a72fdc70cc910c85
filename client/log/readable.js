// @ts-check
/**
 * Whether an entry can be told at all: the twin of server/shedbook/log/readable.py.
 *
 * What comes in is checked long before this. But a log may hold what an older or newer shed took,
 * and one odd entry must not keep a whole garden from being read: it is kept, and left out of the
 * fold.
 */

import { parseDay, parseMoment } from "./moment.js";
import { MENDING_KINDS } from "./telling.js";

/** @import { Entry } from "../types.js" */

const MOST_PLANTS = 10000;

/**
 * Whether the fold finds all that it reads of an entry, in a form that it can read.
 * @param {Entry} entry
 */
export function canBeTold(entry) {
  const { kind, subjects, details, answers = "" } = entry;
  if (typeof kind !== "string" || !isMap(details)) return false;
  if (!isReadable(entry.happened_at, parseMoment) || typeof answers !== "string") return false;
  return isMap(subjects) && isSubjects(subjects) && fitsKind(kind, subjects, details);
}

/** @param {Record<string, unknown>} subjects */
function isSubjects({ bed = "", planting = "", plants = [] }) {
  if (!Array.isArray(plants) || !plants.every(isPlant)) return false;
  return typeof bed === "string" && typeof planting === "string";
}

/**
 * @param {string} kind @param {Record<string, unknown>} subjects
 * @param {Record<string, unknown>} details
 */
function fitsKind(kind, subjects, details) {
  if (MENDING_KINDS.includes(kind) && typeof details.entry !== "string") return false;
  if (kind === "correct") {
    const { kind: told, restated } = details;
    return typeof told === "string" && isMap(restated) && fitsPlace(told, restated);
  }
  if (kind === "bed" && subjects.bed === undefined) return false;
  if ((kind === "planting" || kind === "plant") && subjects.planting === undefined) return false;
  return fitsPlace(kind, details);
}

/**
 * The few fields of a bed or planting that the fold itself looks into.
 * @param {string} kind @param {Record<string, unknown>} details
 */
function fitsPlace(kind, details) {
  if (kind === "bed") {
    const beside = details.beside ?? null;
    const isIds = Array.isArray(beside) && beside.every((one) => typeof one === "string");
    return beside === null || isIds;
  }
  if (kind === "planting") {
    const [plants, endedOn] = [details.plants ?? null, details.ended_on ?? null];
    return (plants === null || isPlant(plants)) && (endedOn === null || isReadable(endedOn, parseDay));
  }
  return true;
}

/** A whole number of a plant, or of plants. @param {unknown} value */
function isPlant(value) {
  return typeof value === "number" && value >= 1 && value <= MOST_PLANTS && Number.isInteger(value);
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** @param {unknown} value @param {(text: string) => unknown} read throws on another form */
export function isReadable(value, read) {
  if (typeof value !== "string") return false;
  try {
    read(value);
  } catch {
    return false;
  }
  return true;
}
