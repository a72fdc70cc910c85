// @ts-check
/**
 * What a form asks before it records: the twin of `check_details` in server/shedbook/log/check.py,
 * driven by the shed's description of the kinds. Texts are composed from `check.<key>` and values.
 */

import { isId } from "./identity.js";
import { monthDays, parseDay, parseMoment } from "./moment.js";
import { isReadable } from "./readable.js";

/** @import { Details, FieldDescription, KindDescription, Message, Subjects } from "../types.js" */
/** @typedef {Record<string, Message[]>} Messages */
/** @typedef {{problems: Messages, remarks: Messages}} Checked */

const MOST_PLANTS = 10000;
const LONGEST_LIST = 1000;
const LARGEST = 1_000_000;
const DAY_SECONDS = 86400;
const YEAR_2000 = 946684800;
const LEAP_YEAR = 2000;
const NAME = /^[a-z0-9_]{1,40}$/;
const SHA256 = /^[0-9a-f]{64}$/;
const MONTH_DAY = /^(\d\d)-(\d\d)$/;

/** @type {("bed" | "planting" | "plants")[]} */
const SLOTS = ["bed", "planting", "plants"];

/**
 * A message by its key.
 * @param {string} key @param {Record<string, unknown>} [values]
 * @returns {Message}
 */
const say = (key, values = {}) => ({ key: `check.${key}`, values });

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** @param {unknown} value @returns {value is number} */
const isNumber = (value) => typeof value === "number";

/**
 * Problems and remarks of one kind's subjects and details, by the path of the field; `making` when
 * the entry is the one that makes a bed or planting.
 * @param {KindDescription} kind @param {Subjects} subjects @param {Details} details
 * @param {boolean} [making]
 * @returns {Checked}
 */
export function checkDetails(kind, subjects, details, making = false) {
  const problems = checkSubjects(kind, subjects);
  let isEachRight = true;
  for (const field of kind.fields) {
    const message = checkField(field, details[field.name], kind.structural);
    if (message === null) continue;
    problems[`details.${field.name}`] = [message];
    isEachRight = false;
  }
  if (isEachRight) Object.assign(problems, checkTogether(kind, details));
  /** @type {Messages} */
  const remarks = {};
  for (const field of kind.fields) {
    const path = `details.${field.name}`;
    const message = checkUsual(field, details[field.name]);
    if (message !== null && problems[path] === undefined) remarks[path] = [message];
  }
  for (const name of making ? kind.needed_at_making : []) {
    const path = `details.${name}`;
    const isMissing = details[name] === undefined || details[name] === null;
    if (isMissing && problems[path] === undefined) remarks[path] = [say("needed")];
  }
  return { problems, remarks };
}

/**
 * A problem or remark about the moment of an entry; `now` is an instant.
 * @param {string} text @param {number} now
 * @returns {Checked}
 */
export function checkMoment(text, now) {
  if (!isReadable(text, parseMoment)) {
    return { problems: { happened_at: [say("not_a_moment")] }, remarks: {} };
  }
  const { instant } = parseMoment(text);
  if (instant < YEAR_2000) return { problems: {}, remarks: { happened_at: [say("long_ago")] } };
  if (instant <= now + DAY_SECONDS) return { problems: {}, remarks: {} };
  return { problems: {}, remarks: { happened_at: [say("in_the_future")] } };
}

/** @param {KindDescription} kind @param {Subjects} subjects @returns {Messages} */
function checkSubjects(kind, subjects) {
  /** @type {Messages} */
  const problems = {};
  for (const slot of SLOTS) {
    const message = checkSlot(kind, subjects, slot);
    if (message !== null) problems[`subjects.${slot}`] = [message];
  }
  const isPlaced = subjects.bed !== undefined || subjects.planting !== undefined;
  const { place } = /** @type {Record<string, string | undefined>} */ (kind.subjects);
  if (place === "required" && !isPlaced) {
    problems.subjects = [say("subject_needed.place")];
  }
  return problems;
}

/**
 * @param {KindDescription} kind @param {Subjects} subjects
 * @param {"bed" | "planting" | "plants"} slot
 * @returns {Message | null}
 */
function checkSlot(kind, subjects, slot) {
  const rule = kind.subjects[slot];
  const value = subjects[slot];
  if (value === undefined) return rule === "required" ? say(`subject_needed.${slot}`) : null;
  if (rule === "none") return say("subject_unwanted");
  if (slot !== "plants") return typeof value === "string" && isId(value) ? null : say("not_an_id");
  if (!isPlants(value)) return say("not_plants");
  return subjects.planting === undefined ? say("plants_alone") : null;
}

/** @param {unknown} value */
function isPlants(value) {
  if (!Array.isArray(value) || value.length < 1 || value.length > MOST_PLANTS) return false;
  const isPlant = (/** @type {unknown} */ item) =>
    isNumber(item) && Number.isInteger(item) && item >= 1 && item <= MOST_PLANTS;
  return value.every(isPlant) && new Set(value).size === value.length;
}

/** @param {KindDescription} kind @param {Details} details @returns {Messages} */
function checkTogether(kind, details) {
  /** @type {Messages} */
  const problems = {};
  for (const group of kind.at_least_one) {
    if (!group.some((name) => details[name] !== undefined)) {
      problems.details = [say(`at_least_one.${kind.name}`)];
    }
  }
  for (const [low, high] of kind.not_above) {
    // A field of a place that is cleared is null, and above nothing.
    if ((details[low] ?? null) === null || (details[high] ?? null) === null) continue;
    if (comparable(details[low]) > comparable(details[high])) {
      problems[`details.${low}`] = [say(`not_above.${low}`)];
    }
  }
  for (const [field, needed] of kind.needs) {
    if ((details[field] ?? null) !== null && (details[needed] ?? null) === null) {
      problems[`details.${needed}`] = [say(`needs.${needed}`)];
    }
  }
  return problems;
}

/** A number as it is, a moment by its instant, so that offsets do not mislead.
 * @param {unknown} value */
const comparable = (value) =>
  typeof value === "string" ? parseMoment(value).instant : Number(value);

/** @param {FieldDescription} field @param {unknown} value @returns {Message | null} */
function checkUsual(field, value) {
  if (!isNumber(value)) return null;
  const { unit, unusual_above: above, unusual_below: below } = field;
  const suffix = unit === undefined ? "" : "_unit";
  if (above !== undefined && value > above) {
    return say(`unusual_above${suffix}`, { limit: above, unit });
  }
  if (below !== undefined && value < below) {
    return say(`unusual_below${suffix}`, { limit: below, unit });
  }
  return null;
}

/**
 * @param {FieldDescription} field @param {unknown} value @param {boolean} mayClear
 * @returns {Message | null}
 */
function checkField(field, value, mayClear) {
  if (value === undefined) return field.required ? say("needed") : null;
  if (value === null) return mayClear ? null : say("not_empty");
  const check = CHECKS.get(field.type);
  return check === undefined ? null : check(value, field);
}

/** @param {unknown} value @param {FieldDescription} field @returns {Message | null} */
function checkNumber(value, field) {
  if (!isNumber(value)) return say("not_a_number");
  const { unit, min = -Infinity, max = Infinity } = field;
  if (!(value >= min && value <= max)) {
    return say(unit === undefined ? "between" : "between_unit", { min, max, unit });
  }
  return field.type === "integer" && !Number.isInteger(value) ? say("not_whole") : null;
}

/** @param {unknown} value @param {FieldDescription} field @returns {Message | null} */
function checkText(value, field) {
  if (typeof value !== "string") return say("not_a_text");
  // Counted in characters, as the shed counts, not in UTF-16 units.
  const length = [...value].length;
  const max = field.max_length ?? Infinity;
  return length >= 1 && length <= max ? null : say("text_length", { max });
}

/** @param {unknown} value @param {FieldDescription} field @returns {Message | null} */
function checkChoice(value, field) {
  const choices = field.choices ?? [];
  const isOne = typeof value === "string" && choices.includes(value);
  return isOne ? null : say("not_a_choice", { choices: choices.join(", ") });
}

/** @param {unknown} value */
function isMonthDay(value) {
  const found = typeof value === "string" ? MONTH_DAY.exec(value) : null;
  if (found === null) return false;
  const [month, day] = [Number(found[1]), Number(found[2])];
  return month >= 1 && month <= 12 && day >= 1 && day <= monthDays(LEAP_YEAR, month);
}

/** @param {unknown} value */
function isIdList(value) {
  if (!Array.isArray(value) || value.length > LONGEST_LIST) return false;
  const isEach = value.every((item) => typeof item === "string" && isId(item));
  return isEach && new Set(value).size === value.length;
}

/** @param {unknown} value */
function isNumberList(value) {
  if (!Array.isArray(value) || value.length < 1 || value.length > LONGEST_LIST) return false;
  return value.every((item) => isNumber(item) && item >= 0 && item <= LARGEST);
}

/** @param {unknown} value */
function isNameList(value) {
  if (!Array.isArray(value) || value.length < 1 || value.length > LONGEST_LIST) return false;
  const isEach = value.every((item) => typeof item === "string" && NAME.test(item));
  return isEach && new Set(value).size === value.length;
}

/** @param {unknown} value */
function isObjectMap(value) {
  if (!isMap(value)) return false;
  return Object.entries(value).every(([name, item]) => NAME.test(name) && isMap(item));
}

/** @param {(value: unknown) => boolean} isRight @param {string} key */
const when = (isRight, key) => (/** @type {unknown} */ value) => isRight(value) ? null : say(key);

/** @type {Map<string, (value: unknown, field: FieldDescription) => Message | null>} */
const CHECKS = new Map(
  /** @type {[string, (value: unknown, field: FieldDescription) => Message | null][]} */ ([
    ["number", checkNumber],
    ["integer", checkNumber],
    ["text", checkText],
    ["long_text", checkText],
    ["choice", checkChoice],
    ["boolean", when((value) => typeof value === "boolean", "not_yes_or_no")],
    ["date", when((value) => isReadable(value, parseDay), "not_a_date")],
    ["moment", when((value) => isReadable(value, parseMoment), "not_a_moment")],
    ["month_day", when(isMonthDay, "not_a_month_day")],
    ["id", when((value) => typeof value === "string" && isId(value), "not_an_id")],
    ["sha256", when((value) => typeof value === "string" && SHA256.test(value), "not_a_sha256")],
    ["id_list", when(isIdList, "not_ids")],
    ["number_list", when(isNumberList, "not_numbers")],
    ["name_list", when(isNameList, "not_names")],
    ["kind", when((value) => typeof value === "string" && NAME.test(value), "not_a_kind")],
    ["map", when(isMap, "not_a_map")],
    ["number_map", when((v) => isMap(v) && Object.values(v).every(isNumber), "not_number_map")],
    ["object_map", when(isObjectMap, "not_object_map")],
  ]),
);
