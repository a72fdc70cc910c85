// @ts-check
// Writing an entry on this phone, and reading the log.
import { STRICT } from "./open.js";
import { getNotebook } from "./meta.js";
import { keepPhotos } from "./photos.js";
import { whole } from "./whole.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("./schema.js").Notebook} Notebook */
/** @typedef {import("./schema.js").Store} Store */

/** @typedef {import("./photos.js").Photo} Photo */

const WRITTEN = /** @type {const} */ (
  ["entries", "outbox", "attention", "photos", "images", "meta"]);

/**
 * Writes one entry, its place in the outbox, the notebook's number, the clock, and what was
 * photographed with it, all or nothing; resolves when the disk has them.
 * @param {Store} store
 * @param {(notebook: Notebook) => {entry: Entry, shown?: Entry[], clock: string}} complete fills in
 *   numbers and clock for the notebook as the transaction finds it; runs inside it, so it must not
 *   wait for anything. `shown` are the entries of the photos that were taken with it.
 * @param {Photo[]} [photos]
 * @returns {Promise<Entry>}
 */
export async function appendEntry(store, complete, photos = []) {
  const tx = store.transaction(WRITTEN, "readwrite", STRICT);
  return whole(tx, async () => {
    const meta = tx.objectStore("meta");
    const { entry, shown = [], clock } = complete(await getNotebook(meta));
    const all = [entry, ...shown];
    const { notebook, number } = all[all.length - 1];
    /** @type {Promise<unknown>[]} */
    const writes = all.flatMap((one) => [
      tx.objectStore("entries").add(one), tx.objectStore("outbox").add(placeOf(one)),
    ]);
    writes.push(meta.put({ id: notebook, number, clock }, "notebook"));
    if (entry.mends) writes.push(markMended(tx, entry.mends, entry.id));
    if (photos.length) writes.push(keepPhotos(tx, photos));
    await Promise.all(writes);
    return entry;
  });
}

/** @param {Entry} entry */
const placeOf = ({ id, garden, notebook, number }) => ({ id, garden, notebook, number });

/**
 * The mended entry keeps its attention row (which keeps it out of the fold) and is sent no more.
 * @param {import("../vendor/idb/index.js").IDBPTransaction<import("./schema.js").Schema,
 *   typeof WRITTEN, "readwrite">} tx
 * @param {string} mended
 * @param {string} by
 */
async function markMended(tx, mended, by) {
  const attention = tx.objectStore("attention");
  const row = await attention.get(mended);
  if (row) await attention.put({ ...row, mended_by: by });
  await tx.objectStore("outbox").delete(mended);
  return by;
}

/**
 * Takes entries and photos of another phone's file into this phone's notebook; ids stay, known ones
 * are left.
 * @param {Store} store
 * @param {Entry[]} entries
 * @param {Photo[]} photos
 * @returns {Promise<Entry[]>} those that were new
 */
export async function adoptEntries(store, entries, photos) {
  const tx = store.transaction(WRITTEN, "readwrite", STRICT);
  return whole(tx, async () => {
    const meta = tx.objectStore("meta");
    let { id: notebook, number, clock } = await getNotebook(meta);
    const adopted = [];
    for (const foreign of entries) {
      if (await tx.objectStore("entries").get(foreign.id)) continue;
      number += 1;
      const entry = { ...foreign, notebook, number };
      await tx.objectStore("entries").add(entry);
      await tx.objectStore("outbox").add(placeOf(entry));
      adopted.push(entry);
    }
    await meta.put({ id: notebook, number, clock }, "notebook");
    await keepPhotos(tx, photos);
    return adopted;
  });
}

/**
 * Entries of a garden that the fold takes in: all but those set aside, refused or mended.
 * @param {Store} store
 * @param {string} garden
 */
export async function readLog(store, garden) {
  const tx = store.transaction(["entries", "attention"], "readonly");
  const [entries, rows] = await Promise.all([
    tx.objectStore("entries").getAll(), tx.objectStore("attention").getAll(),
  ]);
  const left = new Set(rows.filter(leavesFold).map((row) => row.id));
  return entries.filter((entry) => entry.garden === garden && !left.has(entry.id));
}

/**
 * Where the shed's log has another entry of the same id, that one is folded.
 * @param {import("./schema.js").AttentionRow} row
 */
export function leavesFold(row) {
  if (row.own !== undefined) return false;
  return row.result === "set_aside" || row.result === "refused" || row.mended_by !== undefined;
}
