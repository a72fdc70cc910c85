// @ts-check
// What keeps one entry from stopping a whole garden: whatever it holds, the others are folded, and
// the one that can't be is named.
import { Ledger } from "../log/ledger.js";
import { isRead, MENDING_KINDS, PLACE_KINDS } from "../log/telling.js";

/** @typedef {import("../types.js").Entry} Entry */

/**
 * A ledger of all entries that can be folded, and those that can't.
 * @param {Entry[]} entries
 * @returns {{ledger: Ledger, leftOut: Set<string>}}
 */
export function foldable(entries) {
  /** @type {Set<string>} */
  const leftOut = new Set();
  let ledger = tryFold(entries);
  if (ledger) return { ledger, leftOut };
  // Most often an entry is bad by itself; then the others are found to be good at once.
  for (const entry of entries) if (!tryFold([entry])) leftOut.add(entry.id);
  for (;;) {
    const left = entries.filter((entry) => !leftOut.has(entry.id));
    ledger = tryFold(left);
    if (ledger) return { ledger, leftOut };
    leftOut.add(left[firstBad(left)].id);
  }
}

/**
 * Where the first entry lies that can't follow those before it.
 * @param {Entry[]} entries of which all together can't be folded
 */
function firstBad(entries) {
  let [good, bad] = [0, entries.length];
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (tryFold(entries.slice(0, middle))) good = middle;
    else bad = middle;
  }
  return good;
}

/**
 * @param {Entry[]} entries
 * @returns {Ledger | null} null when one of them stops it
 */
function tryFold(entries) {
  try {
    const ledger = new Ledger();
    ledger.add(entries);
    return ledger;
  } catch {
    return null;
  }
}

/**
 * Is the entry in no reckoning, though nobody took it back? An event that is told is asked for at
 * once; the rare others are tried in a ledger of their own, with what they are about.
 * @param {Ledger} ledger
 * @param {Entry} entry
 * @param {Entry | undefined} root of an entry that mends another
 */
export function isUntold(ledger, entry, root) {
  const { id, kind } = entry;
  if (!PLACE_KINDS.includes(kind) && !MENDING_KINDS.includes(kind)) {
    if (ledger.event(id) !== null) return false;
    // Taking a treatment back leaves it told.
    if (kind === "treat") return true;
  }
  const unread = tryFold(root ? [root, entry] : [entry])?.snapshot().unread;
  return unread === undefined || unread.length > 0;
}

/**
 * Should this version have understood the entry? A newer one's kind of entry is no fault.
 * @param {Entry} entry
 */
export const isFaulty = (entry) => typeof entry.version !== "number" || isRead(entry);
