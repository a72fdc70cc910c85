// @ts-check
// From values to places on a chart, and the round values that an axis names.

/** @typedef {(value: number) => number} Scale */

const ROUND = [1, 2, 2.5, 5, 10];
// A last bit must not cost a tick.
const NEAR = 1e-9;

/**
 * Where a value lies between two places.
 * @param {number} from @param {number} to
 * @param {number} start @param {number} end
 * @returns {Scale}
 */
export function linear(from, to, start, end) {
  const span = to - from || 1;
  return (value) => start + ((value - from) / span) * (end - start);
}

/**
 * Round values from the lower to the first that the upper does not pass, no closer than `least`.
 * @param {number} low @param {number} high
 * @param {number} [least] @param {number} [wanted] how many spaces between them
 */
export function roundTicks(low, high, least = 0, wanted = 4) {
  const rough = Math.max((high - low) / wanted, least) || 1;
  const ten = 10 ** Math.floor(Math.log10(rough) + NEAR);
  const step = (ROUND.find((one) => one * ten >= rough * (1 - NEAR)) ?? 10) * ten;
  const [first, last] = [Math.ceil(low / step - NEAR), Math.ceil(high / step - NEAR)];
  return Array.from({ length: last - first + 1 }, (_, at) =>
    Number(((first + at) * step).toPrecision(12)),
  );
}
