// @ts-check
// Stores what one exchange with the shed brought, all or nothing: answers, pulled page and cursor.
import { STRICT } from "./open.js";
import { getNotebook } from "./meta.js";
import { leavesFold } from "./entries.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("./schema.js").AttentionRow} AttentionRow */
/** @typedef {import("./schema.js").Heard} Heard */
/** @typedef {import("./schema.js").Cursor} Cursor */
/** @typedef {import("./schema.js").Store} Store */
/** @typedef {import("../sync/protocol.js").Answer} Answer */

/**
 * @typedef {object} Brought
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
 * @param {Store} store
 * @param {Brought} brought
 * @param {(clock: string, seen: string) => string} advance moves the phone's clock past one it saw
 * @returns {Promise<Committed>}
 */
export async function commitExchange(store, brought, advance) {
  const names = /** @type {const} */ (["entries", "outbox", "attention", "meta"]);
  const tx = store.transaction(names, "readwrite", STRICT);
  const entries = tx.objectStore("entries");
  const outbox = tx.objectStore("outbox");
  const attention = tx.objectStore("attention");
  const meta = tx.objectStore("meta");
  const shrank = [];
  /** @type {Map<string, Entry>} */
  const changed = new Map();
  for (const answer of brought.answers) {
    if (answer.result === "forked") continue;
    const before = await attention.get(answer.id);
    const row = rowAfter(answer, before, brought.now_ms);
    if (row) attention.put(row);
    else if (before) attention.delete(answer.id);
    shrank.push((before ? leavesFold(before) : false) !== (row ? leavesFold(row) : false));
    outbox.delete(answer.id);
    const entry = await entries.get(answer.id);
    if (entry) changed.set(entry.id, placed(entry, answer));
  }
  for (const entry of brought.entries) {
    changed.set(entry.id, kept(entry, await entries.get(entry.id)));
  }
  for (const entry of changed.values()) entries.put(entry);
  const notebook = await getNotebook(meta);
  meta.put({ ...notebook, clock: advance(notebook.clock, highest(changed)) }, "notebook");
  meta.put(brought.cursor, "cursor");
  meta.put(brought.heard, "heard");
  await tx.done;
  return { changed: [...changed.values()], foldShrank: shrank.includes(true) };
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
  return { id, result, problems, remarks, hint, at_ms };
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
