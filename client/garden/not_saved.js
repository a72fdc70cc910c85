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
