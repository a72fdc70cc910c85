// @ts-check
/**
 * A hybrid logical clock: the twin of server/shedbook/log/clock.py.
 * It follows the wall clock but never runs backwards and never stands below anything it has seen,
 * so "the later change wins" holds even between phones whose clocks disagree. Written as 12
 * hexadecimal digits of milliseconds and 4 of a counter, it is ordered by comparing the texts.
 */

export const FIRST_CLOCK = "0000000000000000";
// A phone whose clock runs ahead by more than this must not win over everyone else's changes.
export const TRUSTED_AHEAD_MS = 300000;

const CLOCK = /^[0-9a-f]{16}$/;
const LAST_MS = 0xffffffffffff;
const LAST_COUNTER = 0xffff;

/**
 * Whether a text has the form of a clock.
 * @param {string} text
 */
export function isClock(text) {
  return CLOCK.test(text);
}

/**
 * Write a clock; a full counter carries into the next millisecond.
 * @param {number} ms @param {number} counter
 */
export function clockText(ms, counter) {
  if (counter > LAST_COUNTER) [ms, counter] = [ms + 1, 0];
  if (ms < 0 || ms > LAST_MS) {
    throw new RangeError("A clock lies between 1970 and the year 10889.");
  }
  return ms.toString(16).padStart(12, "0") + counter.toString(16).padStart(4, "0");
}

/**
 * The clock of a new entry, above the last one this notebook has used or seen.
 * @param {string} last @param {number} nowMs
 */
export function tick(last, nowMs) {
  const [lastMs, lastCounter] = [parseInt(last.slice(0, 12), 16), parseInt(last.slice(12), 16)];
  if (nowMs > lastMs) return clockText(nowMs, 0);
  return clockText(lastMs, lastCounter + 1);
}

/**
 * The clock after an entry from elsewhere was seen; pass its `order`, never a higher clock.
 * @param {string} last @param {string} seen @param {number} nowMs
 */
export function advance(last, seen, nowMs) {
  return tick(last > seen ? last : seen, nowMs);
}

/**
 * The clock that folds go by: the entry's own, but not far above the time it arrived.
 * @param {string} clock @param {number} receivedMs
 */
export function orderOf(clock, receivedMs) {
  const ceiling = clockText(receivedMs + TRUSTED_AHEAD_MS, 0);
  return clock < ceiling ? clock : ceiling;
}
