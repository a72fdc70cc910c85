// @ts-check
/**
 * Ids that sort by the time they were made (RFC 9562, version 7): twin of log/identity.py.
 * The phone makes them without a network, and without `crypto.randomUUID`, which a page on plain
 * HTTP does not have.
 */

const ID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;
export const RANDOM_BYTES = 10;

/**
 * Whether a text is a UUID in the one form: lower case with dashes.
 * @param {string} text
 */
export function isId(text) {
  return ID.test(text);
}

/**
 * A version 7 UUID from the time and ten random bytes.
 * @param {number} nowMs @param {Uint8Array} randomBytes
 */
export function newId(nowMs, randomBytes) {
  if (randomBytes.length < RANDOM_BYTES) throw new RangeError("An id needs ten random bytes.");
  const random = randomBytes.slice(0, RANDOM_BYTES);
  random[0] = 0x70 | (random[0] & 0x0f);
  random[2] = 0x80 | (random[2] & 0x3f);
  let digits = nowMs.toString(16).padStart(12, "0");
  for (const byte of random) digits += byte.toString(16).padStart(2, "0");
  const cuts = [[0, 8], [8, 12], [12, 16], [16, 20], [20, 32]];
  return cuts.map(([from, to]) => digits.slice(from, to)).join("-");
}
