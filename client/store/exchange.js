// @ts-check
// Stores what one exchange with the shed brought, all or nothing: answers, pulled page and cursor.
import { STRICT } from "./open.js";
import { getNotebook } from "./meta.js";
import { isSameContent } from "./content.js";
import { leavesFold } from "./entries.js";
import { whole } from "./whole.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("./schema.js").AttentionRow} AttentionRow */
/** @typedef {import("./schema.js").Heard} Heard */
/** @typedef {import("./schema.js").Cursor} Cursor */
/** @typedef {import("./schema.js").MetaValues} MetaValues */
/** @typedef {import("./schema.js").Store} Store */
/** @typedef {import("../sync/protocol.js").Answer} Answer */

/**
 * @typedef {object} Brought
 * @property {{garden: string, cursor: number, epoch: string | null}} asked from where it was asked
 * @property {Answer[]} answers
 * @property {Entry[]} entries
 * @property {Cursor} cursor
 * @property {Heard} heard
 * @property {number} now_ms
 */

/**
 * @typedef {object} Committed
 * @property {Entry[]} changed entries that are new or have their order now
 * @property {boolean} foldShrank an entry left the fold, or came back: the ledger starts afresh
 */

/**
 * @typedef {import("../vendor/idb/index.js").IDBPTransaction<import("./schema.js").Schema,
 *   readonly ("entries" | "outbox" | "attention" | "meta")[], "readwrite">} Writing
 */

/**
 * @param {Store} store
 * @param {Brought} brought
 * @param {(clock: string, seen: string) => string} advance moves the phone's clock past one it saw
 * @returns {Promise<Committed | null>} null, and nothing stored, when the phone is no longer where
 *   it asked from: it has left the garden, or another tab has read on
 */
export async function commitExchange(store, brought, advance) {
  const names = /** @type {const} */ (["entries", "outbox", "attention", "meta"]);
  const tx = store.transaction(names, "readwrite", STRICT);
  return whole(tx, async () => {
    const meta = tx.objectStore("meta");
    if (!(await isStillThere(meta, brought.asked))) return null;
    const { changed, foldShrank } = await meetAll(tx, brought);
    const notebook = await getNotebook(meta);
    const clock = advance(notebook.clock, highest(changed));
    await Promise.all([
      ...[...changed.values()].map((entry) => tx.objectStore("entries").put(entry)),
      meta.put({ ...notebook, clock }, "notebook"),
      meta.put(brought.cursor, "cursor"),
      meta.put(brought.heard, "heard"),
    ]);
    return { changed: [...changed.values()], foldShrank };
  });
}

/**
 * What the answers and the pulled entries make of those that this phone has.
 * @param {Writing} tx
 * @param {Brought} brought
 */
async function meetAll(tx, brought) {
  /** @type {Map<string, Entry>} */
  const changed = new Map();
  let foldShrank = false;
  for (const answer of brought.answers) {
    if (answer.result === "forked") continue;
    if (await takeAnswer(tx, answer, brought.now_ms)) foldShrank = true;
    const entry = await tx.objectStore("entries").get(answer.id);
    if (entry) changed.set(entry.id, placed(entry, answer));
  }
  for (const pulled of brought.entries) {
    const own = await tx.objectStore("entries").get(pulled.id);
    if (own && (await meetOwn(tx, pulled, own, brought.now_ms))) foldShrank = true;
    changed.set(pulled.id, kept(pulled, own));
  }
  return { changed, foldShrank };
}

/**
 * Without this, an answer that comes after the phone left would put the cursor back, and the log
 * before it would never be read again.
 * @param {{get(key: "session" | "cursor"): Promise<MetaValues[keyof MetaValues] | undefined>}} meta
 * @param {Brought["asked"]} asked
 */
async function isStillThere(meta, { garden, cursor, epoch }) {
  const session = /** @type {Session | undefined} */ (await meta.get("session"));
  const position = /** @type {Cursor | undefined} */ (await meta.get("cursor"));
  const here = position?.garden === garden ? position : undefined;
  return session?.garden.id === garden && (here?.cursor ?? 0) === cursor
    && (here?.epoch ?? null) === epoch;
}

/**
 * @param {Writing} tx
 * @param {Answer} answer
 * @param {number} now_ms
 * @returns {Promise<boolean>} whether the entry left the fold, or came back
 */
async function takeAnswer(tx, answer, now_ms) {
  const attention = tx.objectStore("attention");
  const before = await attention.get(answer.id);
  const row = rowAfter(answer, before, now_ms);
  if (row) attention.put(row);
  else if (before) attention.delete(answer.id);
  tx.objectStore("outbox").delete(answer.id);
  return (before ? leavesFold(before) : false) !== (row ? leavesFold(row) : false);
}

/**
 * The shed's log has an id that this phone wrote too. With the same content the entry has arrived,
 * whatever became of the answer: the log decides, also over one that was held, refused or mended.
 * With another content this phone's own text stays with its refusal, and the log's is folded.
 * @param {Writing} tx
 * @param {Entry} pulled
 * @param {Entry} own
 * @param {number} now_ms
 * @returns {Promise<boolean>} whether the fold is another one for it
 */
async function meetOwn(tx, pulled, own, now_ms) {
  const attention = tx.objectStore("attention");
  const row = await attention.get(pulled.id);
  if (isSameContent(pulled, row?.own ?? own)) {
    tx.objectStore("outbox").delete(pulled.id);
    const isTaken = row?.result === "accepted" || row?.result === "known";
    if (row && !isTaken) attention.delete(pulled.id);
    return row !== undefined && leavesFold(row);
  }
  if (row?.own !== undefined) return false;
  const isUnsent = (await tx.objectStore("outbox").get(pulled.id)) !== undefined;
  if (!isUnsent && row?.result !== "refused") return false;
  tx.objectStore("outbox").delete(pulled.id);
  attention.put({ ...row, id: pulled.id, result: "refused", at_ms: row?.at_ms ?? now_ms, own });
  return true;
}

/**
 * The attention row that an answer leaves, undefined for none. One already mended stays out of the
 * fold whatever the shed says of it later: another entry stands for it.
 * @param {Answer} answer
 * @param {AttentionRow | undefined} before
 * @param {number} at_ms
 * @returns {AttentionRow | undefined}
 */
function rowAfter(answer, before, at_ms) {
  if (before?.mended_by !== undefined) return before;
  const { id, result, problems, remarks, hint } = answer;
  if (result === "forked") return before;
  const isTaken = result === "accepted" || result === "known";
  if (isTaken && !Object.keys(remarks ?? {}).length) return undefined;
  return { id, result, problems, remarks, hint, at_ms, ...(before?.own && { own: before.own }) };
}

/**
 * @param {Entry} entry
 * @param {Answer} answer
 * @returns {Entry}
 */
function placed(entry, { seq, order }) {
  return seq === undefined || order === undefined ? entry : { ...entry, seq, order };
}

/**
 * A pulled entry takes the place of this phone's copy, which keeps its notebook and number: the
 * phone numbers what it must send again by them.
 * @param {Entry} pulled
 * @param {Entry | undefined} own
 * @returns {Entry}
 */
function kept(pulled, own) {
  return own ? { ...pulled, notebook: own.notebook, number: own.number } : pulled;
}

/**
 * The highest order among entries; an entry's own clock is not trusted above it.
 * @param {Map<string, Entry>} changed
 */
function highest(changed) {
  let found = "";
  for (const { order } of changed.values()) {
    if (order !== undefined && order > found) found = order;
  }
  return found;
}
