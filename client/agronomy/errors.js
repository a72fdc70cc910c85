// @ts-check
/**
 * What a function of this folder throws; the rules turn it into `unknown` with the reason.
 * Twin of server/shedbook/agronomy/errors.py.
 */

/** A question that the formula can't answer: which argument, its value, and the limit. */
export class AgronomyError extends Error {
  /** @param {string} name @param {number | null} value @param {string} limit */
  constructor(name, value, limit) {
    super(`${name} must be ${limit}, found ${value}.`);
    this.argument = name;
    this.value = value;
    this.limit = limit;
  }
}

/** An argument outside the span that the source of the formula covers. */
export class OutOfRange extends AgronomyError {}

/** Fewer values than the formula needs. */
export class NotEnoughData extends AgronomyError {}
