// @ts-check
// The way of entries without a network: a JSON Lines file, one entry a line, as they are sent; after
// them the photos, which photo_lines.js reads.
import { checkDetails } from "../log/check.js";
import { isClock } from "../log/clock.js";
import { isId } from "../log/identity.js";
import { parseMoment } from "../log/moment.js";
import { MENDING_KINDS } from "../log/telling.js";
import { asPhotoLine } from "./photo_lines.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").KindDescription} KindDescription */
/** @typedef {import("../types.js").Message} Message */
/** @typedef {{path: string, message: Message}} Why what is wrong, and with which field */
/**
 * @typedef {object} Taking what may be taken in
 * @property {string} garden
 * @property {KindDescription[]} kinds
 * @property {(entry: Entry) => boolean} mayWrite
 */

/** @param {readonly object[]} entries */
export function toLines(entries) {
  return entries.map((entry) => `${JSON.stringify(entry)}\n`).join("");
}

/**
 * Entries and photos of one garden in a file. A line that is none, or none that this phone could read again
 * when it opens, is left out with the reason: it must not keep the others on the way.
 * @param {string} text
 * @param {Taking} taking
 */
export function fromLines(text, taking) {
  /** @type {Entry[]} */
  const entries = [];
  /** @type {{line: number, photo: import("./photo_lines.js").PhotoLine}[]} */
  const photos = [];
  /** @type {{line: number, why: Why}[]} */
  const leftOut = [];
  for (const [index, line] of text.split("\n").entries()) {
    if (!/\S/.test(line)) continue;
    const entry = parsed(line);
    const photo = entry && asPhotoLine(entry);
    if (photo) {
      if (photo.garden === taking.garden) photos.push({ line: index + 1, photo });
      continue;
    }
    const why = entry === null ? NO_ENTRY : whyNot(entry, taking);
    if (why) leftOut.push({ line: index + 1, why });
    else if (entry?.garden === taking.garden) entries.push(written(entry));
  }
  return { entries, photos, leftOut };
}

/** @param {string} line @returns {Entry | null} its parts may still be anything */
function parsed(line) {
  try {
    const value = /** @type {unknown} */ (JSON.parse(line));
    return isMap(value) ? /** @type {Entry} */ (/** @type {unknown} */ (value)) : null;
  } catch {
    return null;
  }
}

/**
 * The shed's own marks are not part of what was written down.
 * @param {Entry} entry
 * @returns {Entry}
 */
function written({ seq, order, received_at, ...rest }) {
  return rest;
}

/**
 * @param {string} path
 * @param {string} key
 * @returns {Why}
 */
const because = (path, key) => ({ path, message: { key: `check.${key}`, values: {} } });
const NO_ENTRY = because("", "not_an_entry");

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** @param {unknown} value */
const isIdText = (value) => typeof value === "string" && isId(value);

/** @param {unknown} value */
function isMoment(value) {
  try {
    return typeof value === "string" && Boolean(parseMoment(value));
  } catch {
    return false;
  }
}

const NAME = /^[a-z0-9_]{1,40}$/;
const LONGEST_ANSWERS = 200;

/** The parts of every entry: what each must be, and the key of what to say if it is not. */
/** @type {[keyof Entry, (value: unknown) => boolean, string][]} */
const ENVELOPE = [
  ["id", isIdText, "not_an_id"],
  ["garden", isIdText, "not_an_id"],
  ["device", isIdText, "not_an_id"],
  ["person", isIdText, "not_an_id"],
  ["mends", (value) => value === undefined || isIdText(value), "not_an_id"],
  ["kind", (value) => typeof value === "string" && NAME.test(value), "not_a_kind"],
  ["version", (value) => Number.isInteger(value) && Number(value) >= 1, "not_a_count"],
  ["clock", (value) => typeof value === "string" && isClock(value), "not_a_clock"],
  ["happened_at", isMoment, "not_a_moment"],
  ["recorded_at", isMoment, "not_a_moment"],
  ["answers", isAnswers, "not_a_text"],
  ["subjects", isMap, "not_subjects"],
  ["details", isMap, "not_a_map"],
];

/** @param {unknown} value */
function isAnswers(value) {
  if (value === undefined) return true;
  return typeof value === "string" && value.length >= 1 && value.length <= LONGEST_ANSWERS;
}

/**
 * Why an entry can't be taken in; undefined if it can.
 * @param {Entry} entry
 * @param {Taking} taking
 * @returns {Why | undefined}
 */
function whyNot(entry, { kinds, mayWrite }) {
  const wrong = ENVELOPE.find(([name, isRight]) => !isRight(entry[name]));
  if (wrong) return because(wrong[0], wrong[2]);
  if (!mayWrite(entry)) return { path: "", message: { key: "notice.ask_lead", values: {} } };
  const { kind, details } = entry;
  const told = firstProblem(kinds, entry, kind, details);
  if (told || kind !== "correct" || !isMap(details.restated)) return told;
  if (MENDING_KINDS.includes(String(details.kind))) return because("kind", "not_a_root");
  return firstProblem(kinds, entry, String(details.kind), details.restated);
}

/** Of a kind that this version does not know, only what it is about can be checked. */
/** @type {KindDescription} */
const UNKNOWN = {
  name: "", version: 1, group: "work", hand_work: false, structural: true,
  subjects: { bed: "optional", planting: "optional", plants: "optional" },
  at_least_one: [], not_above: [], needs: [], needed_at_making: [], fields: [],
};

/**
 * @param {KindDescription[]} kinds
 * @param {Entry} entry
 * @param {string} name of the kind whose details these are
 * @param {Entry["details"]} details
 * @returns {Why | undefined}
 */
function firstProblem(kinds, { version, subjects }, name, details) {
  const known = kinds.find((kind) => kind.name === name);
  const kind = known && version <= known.version ? known : UNKNOWN;
  const [first] = Object.entries(checkDetails(kind, subjects, details).problems);
  return first && { path: first[0], message: first[1][0] };
}
