// @ts-check
// Entries that the shed did not take, or took with remarks.
import { STRICT } from "./open.js";

/** @typedef {import("../types.js").Attention} Attention */
/** @typedef {import("./schema.js").Store} Store */

/**
 * What is shown under "needs attention", oldest first.
 * @param {Store} store
 * @returns {Promise<Attention[]>}
 */
export async function readAttention(store) {
  const tx = store.transaction(["attention", "entries"], "readonly");
  const rows = (await tx.objectStore("attention").getAll()).filter((row) => !row.dismissed);
  /** @type {Attention[]} */
  const found = [];
  for (const { own, ...row } of rows) {
    const entry = own ?? (await tx.objectStore("entries").get(row.id));
    if (entry) found.push({ ...row, entry });
  }
  return found.sort((a, b) => a.at_ms - b.at_ms || (a.id < b.id ? -1 : 1));
}

/**
 * Puts a row away. One that was neither mended nor taken into the log stays: it would be lost from
 * sight while nothing stands in its place.
 * @param {Store} store
 * @param {string} id
 * @returns {Promise<boolean>} whether it was put away
 */
export async function dismissAttention(store, id) {
  const tx = store.transaction("attention", "readwrite", STRICT);
  const row = await tx.store.get(id);
  const inLog = row?.result === "accepted" || row?.result === "known";
  const may = row !== undefined && (inLog || row.mended_by !== undefined);
  if (row && may) await tx.store.put({ ...row, dismissed: true });
  await tx.done;
  return may;
}
