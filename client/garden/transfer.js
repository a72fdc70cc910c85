// @ts-check
// The way of entries without a network: a JSON Lines file, one entry a line, as they are sent.
import { isId } from "../log/identity.js";

/** @typedef {import("../types.js").Entry} Entry */

/** @param {readonly object[]} entries */
export function toLines(entries) {
  return entries.map((entry) => `${JSON.stringify(entry)}\n`).join("");
}

/**
 * Entries of one garden in a file; throws a RangeError that names the line which is none.
 * @param {string} text
 * @param {string} garden
 */
export function fromLines(text, garden) {
  /** @type {Entry[]} */
  const entries = [];
  for (const [index, line] of text.split("\n").entries()) {
    if (!/\S/.test(line)) continue;
    const entry = parsedEntry(line);
    if (!entry) throw new RangeError(String(index + 1));
    if (entry.garden === garden) entries.push(entry);
  }
  return entries;
}

const TEXTS = /** @type {const} */ (
  ["kind", "happened_at", "recorded_at", "clock", "device", "person"]);

/**
 * @param {string} line
 * @returns {Entry | undefined}
 */
function parsedEntry(line) {
  /** @type {unknown} */
  let value;
  try {
    value = JSON.parse(line);
  } catch {
    return undefined;
  }
  const entry = /** @type {Partial<Entry> | null} */ (value);
  if (typeof entry !== "object" || entry === null || !isId(String(entry.id))) return undefined;
  if (TEXTS.some((name) => typeof entry[name] !== "string")) return undefined;
  if (!isPlainObject(entry.details) || !isPlainObject(entry.subjects)) return undefined;
  // The shed's own marks are not part of what was written down.
  const { seq, order, received_at, ...written } = /** @type {Entry} */ (entry);
  return written;
}

/** @param {unknown} value */
function isPlainObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
