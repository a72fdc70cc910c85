// @ts-check
// What the shed has not answered for, in the order in which it is sent.
import { MENDING_KINDS } from "../log/telling.js";
import { STRICT } from "./open.js";
import { getNotebook } from "./meta.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("./schema.js").Store} Store */
/** @typedef {import("./schema.js").Waiting} Waiting */

/**
 * The next entries to send, all of one notebook, by number. What mends an entry that is held waits
 * for it: the shed refuses a helper's change of what it has not got.
 * @param {Store} store
 * @param {string} garden
 * @param {{count: number, bytes: number}} limit
 * @returns {Promise<Entry[]>}
 */
export async function nextBatch(store, garden, limit) {
  const tx = store.transaction(["outbox", "entries"], "readonly");
  const waiting = (await tx.objectStore("outbox").getAll())
    .filter((row) => row.garden === garden)
    .sort(byPlace);
  const held = new Set(waiting.filter((row) => row.held).map((row) => row.id));
  /** @type {Entry[]} */
  const batch = [];
  let bytes = 0;
  for (const row of waiting) {
    if (batch.length && (batch.length === limit.count || row.notebook !== batch[0].notebook)) break;
    const entry = row.held ? undefined : await tx.objectStore("entries").get(row.id);
    if (!entry || isAboutOneOf(entry, held)) continue;
    bytes += JSON.stringify(entry).length;
    if (batch.length && bytes > limit.bytes) break;
    batch.push(entry);
  }
  return batch;
}

/**
 * Does it correct or take back one of these? What is malformed is sent, for the shed to say so.
 * @param {Entry} entry
 * @param {Set<string>} ids
 */
const isAboutOneOf = ({ kind, details }, ids) =>
  MENDING_KINDS.includes(kind) && ids.has(String(details?.entry));

/**
 * @param {Waiting} a
 * @param {Waiting} b
 */
function byPlace(a, b) {
  if (a.notebook !== b.notebook) return a.notebook < b.notebook ? -1 : 1;
  return a.number - b.number;
}

/** @param {Store} store */
export async function readWaiting(store) {
  return store.getAll("outbox");
}

/**
 * Entries that wait, as they would be sent: for the export file.
 * @param {Store} store
 */
export async function readUnsent(store) {
  const tx = store.transaction(["outbox", "entries"], "readonly");
  const rows = (await tx.objectStore("outbox").getAll()).sort(byPlace);
  const entries = await Promise.all(rows.map((row) => tx.objectStore("entries").get(row.id)));
  return entries.filter((entry) => entry !== undefined);
}

/**
 * Leaves one entry out of the batches, because requests fail with it alone.
 * @param {Store} store
 * @param {string} id
 * @param {string} code what the shed or the network said
 * @param {number} now_ms
 */
export async function holdEntry(store, id, code, now_ms) {
  const tx = store.transaction(["outbox", "attention"], "readwrite", STRICT);
  const row = await tx.objectStore("outbox").get(id);
  if (row) tx.objectStore("outbox").put({ ...row, held: true });
  tx.objectStore("attention").put({ id, result: "failed", hint: code, at_ms: now_ms });
  await tx.done;
}

/**
 * Lets held entries be tried again.
 * @param {Store} store
 */
export async function releaseHeld(store) {
  const tx = store.transaction("outbox", "readwrite", STRICT);
  for (const row of await tx.store.getAll()) {
    if (row.held) tx.store.put({ ...row, held: false });
  }
  await tx.done;
}

/**
 * Puts those of a notebook's entries back into the outbox that the shed has lost.
 * @param {Store} store
 * @param {string} notebook
 * @param {(number: number) => boolean} isLost
 */
export async function requeueEntries(store, notebook, isLost) {
  const tx = store.transaction(["entries", "outbox", "attention"], "readwrite", STRICT);
  for (const { id, garden, number } of await lostEntries(tx, notebook, isLost)) {
    tx.objectStore("outbox").put({ id, garden, notebook, number });
  }
  await tx.done;
}

/**
 * Has the shed lost an entry of this garden that it had answered for?
 * @param {Store} store
 * @param {string} garden
 * @param {string} notebook
 * @param {(number: number) => boolean} isLost
 */
export async function hasLost(store, garden, notebook, isLost) {
  const tx = store.transaction(["entries", "outbox", "attention"], "readonly");
  const lost = await lostEntries(tx, notebook, isLost);
  return lost.some((entry) => entry.garden === garden);
}

/**
 * Entries that wait already, were refused, or have another in their place are none of them.
 * @param {import("../vendor/idb/index.js").IDBPTransaction<import("./schema.js").Schema,
 *   readonly ("entries" | "outbox" | "attention")[], "readonly" | "readwrite">} tx
 * @param {string} notebook
 * @param {(number: number) => boolean} isLost
 */
async function lostEntries(tx, notebook, isLost) {
  const lost = [];
  for (const entry of await tx.objectStore("entries").index("notebook").getAll(notebook)) {
    if (!isLost(entry.number) || (await tx.objectStore("outbox").get(entry.id))) continue;
    const row = await tx.objectStore("attention").get(entry.id);
    if (row?.mended_by === undefined && row?.result !== "refused") lost.push(entry);
  }
  return lost;
}

/**
 * Those of a notebook's numbers under which nothing will come any more: a later entry, under a
 * number of its own, stands for what they numbered.
 * @param {Store} store
 * @param {string} notebook
 * @param {readonly number[]} missing
 */
export async function findGivenUp(store, notebook, missing) {
  const tx = store.transaction(["entries", "outbox", "attention"], "readonly");
  const numbers = [];
  for (const entry of await tx.objectStore("entries").index("notebook").getAll(notebook)) {
    if (!missing.includes(entry.number)) continue;
    const row = await tx.objectStore("attention").get(entry.id);
    const isWaiting = (await tx.objectStore("outbox").get(entry.id)) !== undefined;
    if (row?.mended_by !== undefined && !isWaiting) numbers.push(entry.number);
  }
  return numbers.sort((a, b) => a - b);
}

/**
 * Starts a new notebook after the shed found one of the present notebook's numbers taken by another
 * entry: everything unsent in it is numbered anew, ids unchanged. What waits for a garden that this
 * phone has left keeps its number: the present notebook is not that garden's.
 * @param {Store} store
 * @param {string} forked
 * @param {string} fresh id of the new notebook
 */
export async function renumberUnsent(store, forked, fresh) {
  const tx = store.transaction(["entries", "outbox", "meta"], "readwrite", STRICT);
  const meta = tx.objectStore("meta");
  const outbox = tx.objectStore("outbox");
  const current = await getNotebook(meta);
  // A fork of an older notebook moves its entries to the end of the present one.
  const isPresent = current.id === forked;
  const notebook = isPresent ? fresh : current.id;
  let number = isPresent ? 0 : current.number;
  const session = /** @type {import("../types.js").Session | undefined} */ (
    await meta.get("session"));
  const rows = (await outbox.getAll())
    .filter((row) => row.notebook === forked && row.garden === session?.garden.id)
    .sort(byPlace);
  for (const row of rows) {
    number += 1;
    const entry = await tx.objectStore("entries").get(row.id);
    if (entry) tx.objectStore("entries").put({ ...entry, notebook, number });
    outbox.put({ ...row, notebook, number });
  }
  meta.put({ ...current, id: notebook, number }, "notebook");
  const known = /** @type {string[]} */ (await meta.get("notebooks"));
  if (isPresent) meta.put([...known, fresh], "notebooks");
  await tx.done;
}
