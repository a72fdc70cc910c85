// @ts-check

/** Thrown when an entry is in memory alone; it is written later, unless the page ends first. */
export class NotSaved extends Error {
  /** @param {unknown} cause */
  constructor(cause) {
    super("not_saved", { cause });
    this.name = "NotSaved";
  }
}

/**
 * Why it was not: a newer page has taken the store out of this one's hands, or there is no room.
 * @param {NotSaved} error
 */
export const wordOf = ({ cause }) =>
  isStoreTaken(cause) ? "error.store_taken" : "error.not_saved";

/** @param {unknown} error */
const isStoreTaken = (error) =>
  error instanceof DOMException && error.name === "InvalidStateError";

/**
 * A list from the store; none of it when a newer page has the store, which takes care of it then.
 * @template T
 * @param {() => Promise<T[]>} read
 * @returns {Promise<T[]>}
 */
export async function unlessTaken(read) {
  try {
    return await read();
  } catch (error) {
    if (!isStoreTaken(error)) throw error;
    return [];
  }
}

/**
 * Waits for a form's writing, before the form is left. What storage refused is held in memory and
 * written later, as its notice says: a form that stays open would write it a second time.
 * @template T
 * @param {Promise<T>} writing
 * @returns {Promise<T | undefined>} undefined: in memory alone
 */
export async function writtenOrHeld(writing) {
  try {
    return await writing;
  } catch (error) {
    if (!(error instanceof NotSaved)) throw error;
    return undefined;
  }
}
