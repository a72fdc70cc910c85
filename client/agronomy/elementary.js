// @ts-check
/**
 * Sine, exponential and their kin from + - * / and square root, so both sides agree to the bit:
 * the mathematical libraries differ in the last bits, these short series don't.
 * Twin of server/shedbook/agronomy/elementary.py.
 */
import { OutOfRange } from "./errors.js";

export const PI = 3.141592653589793;
const HALF_PI = 1.5707963267948966;
// Pi / 2 and ln 2, each in a first part of 33 bits or fewer and the rest: an exact product with a
// small whole number, and no digits lost when it is taken away.
const HALF_PI_HEAD = 1.5707963267341256;
const HALF_PI_TAIL = 6.077100506506192e-11;
const LN_2_HEAD = 0.6931471803691238;
const LN_2_TAIL = 1.9082149292705877e-10;
const SQRT_2 = 1.4142135623730951;

const LARGEST_ANGLE = 1_000_000;
const LARGEST_EXPONENT = 700;

/** Sine of an angle in radians. @param {number} angle @returns {number} */
export function sin(angle) {
  const { quarter, rest } = quarterTurn(angle);
  if (quarter === 0) return sinSeries(rest);
  if (quarter === 1) return cosSeries(rest);
  if (quarter === 2) return -sinSeries(rest);
  return -cosSeries(rest);
}

/** Cosine of an angle in radians. @param {number} angle @returns {number} */
export function cos(angle) {
  const { quarter, rest } = quarterTurn(angle);
  if (quarter === 0) return cosSeries(rest);
  if (quarter === 1) return -sinSeries(rest);
  if (quarter === 2) return -cosSeries(rest);
  return sinSeries(rest);
}

/** The angle between -pi/2 and pi/2 whose tangent this is. @param {number} slope */
export function atan(slope) {
  if (!(slope >= -1e300 && slope <= 1e300)) throw new OutOfRange("slope", slope, "a finite number");
  let size = slope < 0 ? -slope : slope;
  const turned = size > 1;
  if (turned) size = 1 / size;
  // Halving the angle twice brings the slope below 0.2, where ten terms are enough.
  size = size / (1 + Math.sqrt(1 + size * size));
  size = size / (1 + Math.sqrt(1 + size * size));
  let found = 4 * atanSeries(size);
  if (turned) found = HALF_PI - found;
  return slope < 0 ? -found : found;
}

/** The angle between -pi/2 and pi/2 whose sine this is. @param {number} ratio */
export function asin(ratio) {
  if (!(ratio >= -1 && ratio <= 1)) throw new OutOfRange("ratio", ratio, "between -1 and 1");
  if (ratio === 1) return HALF_PI;
  if (ratio === -1) return -HALF_PI;
  return atan(ratio / Math.sqrt((1 - ratio) * (1 + ratio)));
}

/** The angle between 0 and pi whose cosine this is. @param {number} ratio */
export function acos(ratio) {
  if (!(ratio >= -1 && ratio <= 1)) throw new OutOfRange("ratio", ratio, "between -1 and 1");
  if (ratio === -1) return PI;
  return 2 * atan(Math.sqrt((1 - ratio) / (1 + ratio)));
}

/** E to this power. @param {number} exponent */
export function exp(exponent) {
  if (!(exponent >= -LARGEST_EXPONENT && exponent <= LARGEST_EXPONENT)) {
    throw new OutOfRange("exponent", exponent, "between -700 and 700");
  }
  let doublings = Math.floor(exponent / (LN_2_HEAD + LN_2_TAIL) + 0.5);
  const rest = exponent - doublings * LN_2_HEAD - doublings * LN_2_TAIL;
  let total = 1;
  for (let n = 14; n > 0; n -= 1) total = 1 + (total * rest) / n;
  for (; doublings > 0; doublings -= 1) total = total * 2;
  for (; doublings < 0; doublings += 1) total = total / 2;
  return total;
}

/** Natural logarithm. @param {number} number */
export function ln(number) {
  if (!(number > 0 && number <= 1e300)) {
    throw new OutOfRange("number", number, "above 0 and at most 1e300");
  }
  let rest = number;
  let doublings = 0;
  for (; rest > SQRT_2; doublings += 1) rest = rest / 2;
  for (; rest * SQRT_2 < 1; doublings -= 1) rest = rest * 2;
  const part = (rest - 1) / (rest + 1);
  const square = part * part;
  let total = 0;
  for (let n = 23; n > 0; n -= 2) total = total * square + 1 / n;
  return doublings * LN_2_HEAD + (2 * part * total + doublings * LN_2_TAIL);
}

/**
 * A positive number to any power, to about 1e-12 of the result where that is of usual size.
 * @param {number} base @param {number} exponent
 */
export function power(base, exponent) {
  return exp(exponent * ln(base));
}

/** Which quarter of the turn (0 to 3) the angle is nearest to, and how far from it.
 * @param {number} angle */
function quarterTurn(angle) {
  if (!(angle >= -LARGEST_ANGLE && angle <= LARGEST_ANGLE)) {
    throw new OutOfRange("angle", angle, "between -1 000 000 and 1 000 000");
  }
  const quarters = Math.floor(angle / HALF_PI + 0.5);
  const rest = angle - quarters * HALF_PI_HEAD - quarters * HALF_PI_TAIL;
  return { quarter: quarters - 4 * Math.floor(quarters / 4), rest };
}

/** @param {number} rest */
function sinSeries(rest) {
  const square = rest * rest;
  let total = 1;
  for (let n = 18; n > 0; n -= 2) total = 1 - (total * square) / (n * (n + 1));
  return rest * total;
}

/** @param {number} rest */
function cosSeries(rest) {
  const square = rest * rest;
  let total = 1;
  for (let n = 19; n > 0; n -= 2) total = 1 - (total * square) / (n * (n + 1));
  return total;
}

/** @param {number} slope */
function atanSeries(slope) {
  const square = slope * slope;
  let total = 0;
  for (let n = 25; n > 0; n -= 2) total = 1 / n - total * square;
  return slope * total;
}
