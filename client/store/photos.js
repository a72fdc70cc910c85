// @ts-check
// Photos on this phone: those that the shed has not got, until it has, and a few more to look at.
import { STRICT } from "./open.js";

/** @typedef {import("../types.js").PhotoRow} PhotoRow */
/** @typedef {import("../types.js").Picture} Picture */
/** @typedef {import("./schema.js").Store} Store */
/** @typedef {{row: PhotoRow, image: ArrayBuffer}} Photo */
/**
 * @template {"photos" | "images"} N
 * @typedef {import("../vendor/idb/index.js").IDBPObjectStore<import("./schema.js").Schema, any, N,
 *   "readwrite">} Rows
 */
/**
 * @typedef {{objectStore(name: "photos"): Rows<"photos">}
 *   & {objectStore(name: "images"): Rows<"images">}} Writing
 *   writes both stores, whatever else it writes
 */

const BOTH = /** @type {const} */ (["photos", "images"]);

/**
 * @param {string} garden
 * @param {string} sha256
 */
const idOf = (garden, sha256) => `${garden}/${sha256}`;

/**
 * A photo as it is kept from now on.
 * @param {string} garden
 * @param {Pick<Picture, "sha256" | "type" | "image">} picture
 * @param {PhotoRow["state"]} state
 * @param {number} nowMs
 * @returns {Photo}
 */
export function photoOf(garden, { sha256, type, image }, state, nowMs) {
  const id = idOf(garden, sha256);
  const bytes = image.byteLength;
  return { row: { id, garden, sha256, type, bytes, state, kept_at_ms: nowMs }, image };
}

/**
 * Keeps photos in the transaction of whoever writes what belongs to them. The same picture again is
 * no other one: what became of it stays.
 * @param {Writing} tx
 * @param {Photo[]} photos
 */
export async function keepPhotos(tx, photos) {
  for (const { row, image } of photos) {
    if ((await tx.objectStore("photos").get(row.id)) !== undefined) continue;
    await tx.objectStore("photos").put(row);
    await tx.objectStore("images").put({ id: row.id, image });
  }
}

/**
 * A photo of the shed's, to be looked at again without it.
 * @param {Store} store
 * @param {Photo} photo
 */
export async function cachePhoto(store, photo) {
  const tx = store.transaction(BOTH, "readwrite");
  await keepPhotos(tx, [photo]);
  await tx.done;
}

/**
 * What is known of every photo, oldest first; no image is read.
 * @param {Store} store
 * @returns {Promise<PhotoRow[]>}
 */
export async function readPhotoRows(store) {
  const rows = await store.getAll("photos");
  return rows.sort((a, b) => a.kept_at_ms - b.kept_at_ms || (a.id < b.id ? -1 : 1));
}

/**
 * @param {Store} store
 * @param {string} garden
 * @param {string} sha256
 * @returns {Promise<Photo | undefined>}
 */
export async function findPhoto(store, garden, sha256) {
  const tx = store.transaction(BOTH, "readonly");
  const id = idOf(garden, sha256);
  const [row, kept] = await Promise.all([
    tx.objectStore("photos").get(id), tx.objectStore("images").get(id),
  ]);
  return row && kept && { row, image: kept.image };
}

/**
 * Photos that the shed has not got, one by one, so that a season of them is never in memory at once.
 * @param {Store} store
 * @returns {AsyncGenerator<Photo>}
 */
export async function* unsentPhotos(store) {
  for (const { garden, sha256, state } of await readPhotoRows(store)) {
    const photo = state === "sent" ? undefined : await findPhoto(store, garden, sha256);
    if (photo) yield photo;
  }
}

/**
 * What became of photos: the shed has them, has lost them, or would not take them.
 * @param {Store} store
 * @param {string[]} ids
 * @param {PhotoRow["state"]} state
 * @param {{code?: string, said?: string}} [why] not
 */
export async function markPhotos(store, ids, state, why = {}) {
  const tx = store.transaction("photos", "readwrite", STRICT);
  for (const id of ids) {
    const row = await tx.store.get(id);
    if (!row) continue;
    const { code: _code, said: _said, ...rest } = row;
    await tx.store.put({ ...rest, state, ...why });
  }
  await tx.done;
}

/**
 * Lets refused photos be tried again: the shed may have more room, or the person another role.
 * @param {Store} store
 */
export async function releaseRefused(store) {
  const refused = (await readPhotoRows(store)).filter((row) => row.state === "refused");
  if (refused.length) await markPhotos(store, refused.map((row) => row.id), "waiting");
}

/**
 * @param {Store} store
 * @param {string[]} ids of photos that the shed has
 */
export async function dropPhotos(store, ids) {
  const tx = store.transaction(BOTH, "readwrite", STRICT);
  for (const id of ids) {
    await tx.objectStore("photos").delete(id);
    await tx.objectStore("images").delete(id);
  }
  await tx.done;
}

/**
 * The phone leaves the garden: photos that the shed has go, the others stay.
 * @param {Writing} tx
 */
export async function forgetSentPhotos(tx) {
  for (const { id, state } of await tx.objectStore("photos").getAll()) {
    if (state !== "sent") continue;
    tx.objectStore("photos").delete(id);
    tx.objectStore("images").delete(id);
  }
}
