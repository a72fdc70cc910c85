// @ts-check

/**
 * Runs the writes of a transaction, and waits until the disk has them. What fails in between takes
 * all of them back: left to itself, a transaction would keep those that were asked for before.
 * @template T
 * @param {{done: Promise<void>, abort(): void}} tx
 * @param {() => Promise<T>} write
 * @returns {Promise<T>}
 */
export async function whole(tx, write) {
  // Its own failure comes after that of the write which caused it, and says no more.
  const done = tx.done.then(() => true, () => false);
  try {
    const written = await write();
    await tx.done;
    return written;
  } catch (error) {
    abort(tx);
    await done;
    throw error;
  }
}

/** @param {{abort(): void}} tx */
function abort(tx) {
  try {
    tx.abort();
  } catch (error) {
    // The browser has ended it already.
    if (!(error instanceof DOMException)) throw error;
  }
}
