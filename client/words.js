// @ts-check
// Turns message keys with values into text: the twin of server/shedbook/words.py, held to the same
// text by tests/corpus/words.json.
import { civilDate } from "./log/moment.js";
import { inUnits, UNIT_PATTERN } from "./units.js";
import { two, zoned } from "./zone.js";

export { two, zoned };

/** @typedef {Record<string, string>} Words */
/** @typedef {(id: string) => string | undefined} NameOf */

// A unit right behind a value belongs to it, and changes with the person's units.
const SLOT = new RegExp(
  `\\{([a-z0-9_]+)(?::([^{}|]*)\\|([^{}|]*))?\\}(?:( ?)(${UNIT_PATTERN})(?![\\p{L}²/]))?`, "gu");
const ID_WORDS = new Set(["id", "bed", "planting", "person", "device", "entry"]);
const ONE_DECIMAL = new Set(["hours", "days", "mm", "l", "g", "c", "percent", "ha", "acre"]);
// What is looked up as `<prefix>.<value>` when the last part of a value's name says so.
const VOCABULARIES = new Set([
  "crop", "family", "kind", "state", "field", "unit", "organism", "trouble", "sign", "material",
  "source",
]);
const SPAN_IN_DAYS_FROM_HOURS = 48;
const RUN_LENGTH = 3;

/**
 * The text of a key with its values filled in; an unknown key comes back in brackets.
 * @param {Words} words
 * @param {string} key
 * @param {Record<string, unknown>} [values]
 * @param {NameOf} [nameOf]
 * @param {string} [zone]
 * @param {import("./units.js").System} [system]
 * @returns {string}
 */
export function compose(
  words, key, values = {}, nameOf = () => undefined, zone = "UTC", system = "metric",
) {
  const template = words[key];
  if (template === undefined) return `[${key}]`;
  // Most have no slot, and a screen asks for hundreds.
  if (!template.includes("{")) return template;
  return template.replace(SLOT, (_slot, name, singular, plural, gap = "", metric) => {
    const { value, unit = "" } = inUnits(system, name, values[name], metric);
    const behind = gap + (unit === metric ? unit : (words[`unit.${unit}`] ?? unit));
    if (singular === undefined && isSpan(name, value)) return span(words, value) + behind;
    const text = formatValue(words, name, value, nameOf, zone);
    if (singular === undefined) return text + behind;
    return `${text} ${text === "1" ? singular : plural}${behind}`;
  });
}

/**
 * @param {string} name
 * @param {unknown} value
 * @returns {value is number}
 */
function isSpan(name, value) {
  return name.endsWith("_hours") && typeof value === "number" && Number.isFinite(value);
}

/**
 * Hours as a person says them: in days from two days on.
 * @param {Words} words
 * @param {number} hours
 */
function span(words, hours) {
  return Math.abs(hours) < SPAN_IN_DAYS_FROM_HOURS
    ? compose(words, "value.hours", { hours })
    : compose(words, "value.days", { days: hours / 24 });
}

/**
 * One value as text; the last part of its name says what it is.
 * @param {Words} words
 * @param {string} name
 * @param {unknown} value
 * @param {NameOf} nameOf
 * @param {string} zone
 * @returns {string}
 */
export function formatValue(words, name, value, nameOf, zone) {
  const last = name.slice(name.lastIndexOf("_") + 1);
  if (last === "plants") return plants(words, value);
  if (typeof value === "boolean") return value ? (words["value.yes"] ?? "yes") : no(words);
  if (typeof value === "number") return number(words, last, value, zone);
  if (typeof value === "string") return word(words, name, last, value, nameOf);
  if (Array.isArray(value)) {
    const singular = last.endsWith("s") ? last.slice(0, -1) : last;
    return value.map((item) => formatValue(words, singular, item, nameOf, zone)).join(", ");
  }
  return words["value.missing"] ?? "?";
}

/** @param {Words} words */
const no = (words) => words["value.no"] ?? "no";

/**
 * @param {Words} words
 * @param {string} name
 * @param {string} last
 * @param {string} value
 * @param {NameOf} nameOf
 */
function word(words, name, last, value, nameOf) {
  if (ID_WORDS.has(last)) return nameOf(value) ?? words["value.unnamed"] ?? "?";
  if (VOCABULARIES.has(last)) return words[`${last}.${value}`] ?? value;
  if (last === "rule") return words[`rule.${value}.title`] ?? value;
  return words[`choice.${name}.${value}`] ?? value;
}

/**
 * @param {Words} words
 * @param {string} last
 * @param {number} value
 * @param {string} zone
 */
function number(words, last, value, zone) {
  if (!Number.isFinite(value)) return words["value.missing"] ?? "?";
  if (last === "day") return date(words, civilDate(Math.trunc(value)));
  if (last === "instant") return moment(words, value, zone);
  if (last === "share") return `${plainNumber(value * 100, 0)}%`;
  return withMark(words, plainNumber(value, ONE_DECIMAL.has(last) ? 1 : 2));
}

/**
 * The mark before decimals, as the language writes it.
 * @param {Words} words
 * @param {string} text
 */
const withMark = (words, text) => text.replace(".", words["value.decimal_mark"] ?? ".");

/**
 * At most so many decimals (0, 1 or 2), halves away from zero, no separators, no trailing zeros.
 * @param {number} value
 * @param {0 | 1 | 2} decimals
 */
export function plainNumber(value, decimals) {
  const scale = [1, 10, 100][decimals];
  const units = Math.floor(Math.abs(value) * scale + 0.5);
  const rest = units % scale;
  let text = String((units - rest) / scale);
  if (rest) text += `.${String(rest).padStart(decimals, "0").replace(/0+$/, "")}`;
  return value < 0 && units ? `-${text}` : text;
}

/**
 * @param {Words} words
 * @param {readonly number[]} civil year, month, day
 */
function date(words, [year, month, day]) {
  const name = words[`date.month.${month}`];
  const form = words["date.day"];
  if (name === undefined || form === undefined) return [year, two(month), two(day)].join("-");
  return form
    .replaceAll("{day}", String(day))
    .replaceAll("{month}", name)
    .replaceAll("{year}", String(year));
}

/**
 * @param {Words} words
 * @param {number} instant
 * @param {string} zone
 */
function moment(words, instant, zone) {
  const at = zoned(zone, Math.floor(instant) * 1000);
  const form = words["date.moment"] ?? "{date} {time}";
  return form
    .replaceAll("{date}", date(words, [at.year, at.month, at.day]))
    .replaceAll("{time}", `${two(at.hour)}:${two(at.minute)}`);
}

/**
 * @param {Words} words
 * @param {unknown} value
 */
function plants(words, value) {
  if (typeof value === "number") return plainNumber(value, 0);
  if (!Array.isArray(value)) return words["value.all_plants"] ?? "all plants";
  const ordinals = value.map(Number).sort((a, b) => a - b);
  const form = ordinals.length === 1
    ? (words["value.one_plant"] ?? "plant {list}")
    : (words["value.some_plants"] ?? "plants {list}");
  return form.replaceAll("{list}", runs(ordinals).join(", "));
}

/**
 * 3, 4, 5, 6, 9 -> "3–6", "9"; fewer than three in a row are listed singly.
 * @param {number[]} ordinals
 */
function runs(ordinals) {
  /** @type {number[][]} */
  const found = [];
  for (const ordinal of ordinals) {
    const run = found.at(-1);
    if (run && ordinal === run[run.length - 1] + 1) run.push(ordinal);
    else found.push([ordinal]);
  }
  return found.flatMap((run) =>
    run.length >= RUN_LENGTH ? [`${run[0]}–${run[run.length - 1]}`] : run.map(String));
}
