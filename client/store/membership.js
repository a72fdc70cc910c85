// @ts-check
// Which garden this phone belongs to. Changed in one transaction with what was pulled from it, so
// that an exchange which is still under way finds either the old garden whole or the new one.
import { STRICT } from "./open.js";
import { getNotebook } from "./meta.js";
import { forgetSentPhotos } from "./photos.js";

/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("./schema.js").Store} Store */

const ALL = /** @type {const} */ (
  ["entries", "outbox", "attention", "photos", "images", "meta"]);

/** What a pairing has brought and what followed from it, which a further one brings anew. */
const TOLD = /** @type {const} */ (["cursor", "heard", "reports", "findings"]);

/**
 * @typedef {import("../vendor/idb/index.js").IDBPTransaction<import("./schema.js").Schema,
 *   readonly ("entries" | "outbox" | "attention" | "photos" | "images" | "meta")[],
 *   "readwrite">} Writing
 */

/**
 * This phone is a device of the session's garden from now on, and reads its log from the start.
 * What was pulled from another garden goes; what this phone has not handed over stays.
 * @param {Store} store
 * @param {Session} session
 * @param {number} nowMs
 * @param {string} fresh id for a notebook, used when the present one belongs to another garden
 */
export async function enterGarden(store, session, nowMs, fresh) {
  const tx = store.transaction(ALL, "readwrite", STRICT);
  const meta = tx.objectStore("meta");
  const position = /** @type {import("./schema.js").Cursor | undefined} */ (
    await meta.get("cursor"));
  if (position?.garden !== session.garden.id) await forgetPulled(tx);
  await openNotebook(tx, session.garden.id, fresh);
  for (const key of TOLD) meta.delete(key);
  meta.put(session, "session");
  meta.put(nowMs, "renewedMs");
  meta.put(false, "revoked");
  await tx.done;
}

/**
 * The pairing is over: what the shed has is forgotten here.
 * @param {Store} store
 * @param {{isRevoked: boolean}} how
 */
export async function leaveGarden(store, { isRevoked }) {
  const tx = store.transaction(ALL, "readwrite", STRICT);
  await forgetPulled(tx);
  const meta = tx.objectStore("meta");
  for (const key of TOLD) meta.delete(key);
  meta.delete("session");
  if (isRevoked) meta.put(true, "revoked");
  await tx.done;
}

/**
 * The session as the shed tells it anew, unless the phone has left it meanwhile.
 * @param {Store} store
 * @param {Session} session
 * @param {number} nowMs
 * @returns {Promise<boolean>} whether it is still the phone's
 */
export async function renewMembership(store, session, nowMs) {
  const tx = store.transaction("meta", "readwrite", STRICT);
  const present = /** @type {Session | undefined} */ (await tx.store.get("session"));
  const isOurs = present?.device.id === session.device.id;
  if (isOurs) {
    tx.store.put(session, "session");
    tx.store.put(nowMs, "renewedMs");
  }
  await tx.done;
  return isOurs;
}

/**
 * A notebook belongs to one garden: its numbers run on for that shed alone, and another one would
 * look for those that it never gets. What waits for the garden before keeps its notebook.
 * @param {Writing} tx
 * @param {string} garden
 * @param {string} fresh
 */
async function openNotebook(tx, garden, fresh) {
  const meta = tx.objectStore("meta");
  const present = await getNotebook(meta);
  const isAnothers = present.number > 0 && (await meta.get("notebookGarden")) !== garden;
  if (isAnothers) {
    const known = /** @type {string[]} */ (await meta.get("notebooks"));
    meta.put({ ...present, id: fresh, number: 0 }, "notebook");
    meta.put([...known, fresh], "notebooks");
  }
  meta.put(garden, "notebookGarden");
}

/**
 * Entries that the shed has not got, or did not take, stay, as this phone wrote them.
 * @param {Writing} tx
 */
async function forgetPulled(tx) {
  const entries = tx.objectStore("entries");
  const attention = tx.objectStore("attention");
  const kept = new Set([
    ...(await tx.objectStore("outbox").getAllKeys()),
    ...(await attention.getAllKeys()),
  ]);
  for (const id of await entries.getAllKeys()) {
    if (!kept.has(id)) entries.delete(id);
  }
  for (const { own, ...row } of await attention.getAll()) {
    if (own === undefined) continue;
    entries.put(own);
    attention.put(row);
  }
  await forgetSentPhotos(tx);
}
