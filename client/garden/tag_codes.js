// @ts-check
// The short codes on tags. A code is worked out from an id alone, so every phone finds the same one
// without asking. It is as long as it must be to mean one thing in its garden, and ends in a
// character that tells a slip of the pen.

// Neither 0 and O nor 1, I and L. Their number is a prime: with rising weights the sum then tells
// every single wrong character, and every two neighbours that have changed places.
export const ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";
const LEAST_BODY = 5;
const DIGITS_A_HASH = 6;
const LONGEST_BODY = 2 * DIGITS_A_HASH;
const IGNORED = /[\s.\-–]/g;
const FNV_START = 0x811c9dc5;
const FNV_PRIME = 0x01000193;

/** @typedef {{body: string} | {wrong: "letter" | "length" | "check"}} Read */

/**
 * The code of each thing, by its key: as many characters as no other key begins with.
 * @param {readonly string[]} keys
 * @returns {Map<string, string>}
 */
export function makeCodes(keys) {
  const long = keys.map((key) => ({ key, body: longBody(key) }));
  long.sort((a, b) => (a.body < b.body ? -1 : 1));
  return new Map(
    long.map(({ key, body }, at) => {
      const near = [long[at - 1]?.body ?? "", long[at + 1]?.body ?? ""];
      const shared = Math.max(...near.map((other) => sharedLength(body, other)));
      const own = body.slice(0, Math.min(Math.max(LEAST_BODY, shared + 1), LONGEST_BODY));
      return [key, own + checkOf(own)];
    }),
  );
}

/**
 * What was typed or scanned, without its last character when that fits the others.
 * @param {string} text upper or lower case, with or without spaces
 * @returns {Read}
 */
export function readCode(text) {
  const code = text.toUpperCase().replace(IGNORED, "");
  if ([...code].some((one) => !ALPHABET.includes(one))) return { wrong: "letter" };
  const body = code.slice(0, -1);
  if (body.length < LEAST_BODY || body.length > LONGEST_BODY) return { wrong: "length" };
  return code === body + checkOf(body) ? { body } : { wrong: "check" };
}

/**
 * The keys that a code may mean: one, or several where things were made after the tag was printed.
 * @param {readonly string[]} keys
 * @param {string} body
 */
export const keysOf = (keys, body) => keys.filter((key) => longBody(key).startsWith(body));

/**
 * In groups of three, as people read it out.
 * @param {string} code
 */
export const spaced = (code) => code.replace(/(.{3})(?=.)/g, "$1 ");

/** @param {string} key */
function longBody(key) {
  const first = hash(key, FNV_START);
  return digits(scatter(first)) + digits(scatter(hash(key, first)));
}

/**
 * FNV-1a over the text's code units; ids are ASCII.
 * @param {string} text
 * @param {number} start
 */
function hash(text, start) {
  let value = start;
  for (let at = 0; at < text.length; at += 1) {
    value = Math.imul(value ^ text.charCodeAt(at), FNV_PRIME);
  }
  return value;
}

/**
 * Spreads each bit over all others: ids that differ in their last digit alone get unlike codes.
 * The steps are the finaliser of MurmurHash3.
 * @param {number} value
 */
function scatter(value) {
  let mixed = value;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}

/** @param {number} value */
function digits(value) {
  let rest = value;
  let text = "";
  for (let at = 0; at < DIGITS_A_HASH; at += 1) {
    text += ALPHABET[rest % ALPHABET.length];
    rest = Math.floor(rest / ALPHABET.length);
  }
  return text;
}

/**
 * The character that makes the weighted sum of all of them a multiple of their number.
 * @param {string} body
 */
function checkOf(body) {
  const sum = [...body].reduce((all, one, at) => all + (at + 1) * ALPHABET.indexOf(one), 0);
  const weight = body.length + 1;
  const found = [...ALPHABET].find((_, value) => (sum + weight * value) % ALPHABET.length === 0);
  return found ?? "";
}

/** @param {string} one @param {string} other */
function sharedLength(one, other) {
  let length = 0;
  while (length < one.length && one[length] === other[length]) length += 1;
  return length;
}
