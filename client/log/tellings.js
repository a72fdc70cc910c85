// @ts-check
/** Every entry of a log, and each root as it is told last: the twin of log/tellings.py. */

import { canBeTold } from "./readable.js";
import { isRead, MENDING_KINDS, rootOf, tell } from "./telling.js";

/** @import { Entry } from "../types.js" */
/** @import { Held, Telling } from "./telling.js" */

/**
 * How a root was told before and how it is told now; null for not at all.
 * @typedef {{old: Telling | null, now: Telling | null}} Change
 */

/** Grows by entries in any order; answers which roots are told in another way. */
export class Tellings {
  /** @type {Map<string, Telling>} */
  byRoot = new Map();
  /**
   * Entries that this version does not understand or cannot tell: kept, and left out.
   * @type {Set<string>}
   */
  unread = new Set();
  /** @type {Map<string, Held>} */
  #held = new Map();
  /** @type {Map<string, Set<string>>} */
  #mendings = new Map();

  /**
   * Take entries in, known ones again without effect.
   * @param {Iterable<Entry>} entries
   */
  add(entries) {
    /** @type {Set<string>} */
    const roots = new Set();
    for (const entry of entries) if (this.#hold(entry)) roots.add(rootOf(entry));
    return this.#tellAgain(roots);
  }

  /**
   * Leave entries out again.
   * @param {Iterable<string>} entryIds
   */
  forget(entryIds) {
    /** @type {Set<string>} */
    const roots = new Set();
    for (const entryId of entryIds) {
      const held = this.#held.get(entryId);
      this.#held.delete(entryId);
      if (this.unread.delete(entryId) || held === undefined) continue;
      const rootId = rootOf(held.entry);
      this.#mendings.get(rootId)?.delete(entryId);
      roots.add(rootId);
    }
    return this.#tellAgain(roots);
  }

  /**
   * Keep an entry, or the smaller order of a known one; whether that changes a telling.
   * @param {Entry} entry
   */
  #hold(entry) {
    const order = entry.order ?? entry.clock;
    const known = this.#held.get(entry.id);
    if (known !== undefined && known.order <= order) return false;
    const held = { order, entry: known === undefined ? entry : known.entry };
    this.#held.set(entry.id, held);
    if (!isRead(held.entry) || !canBeTold(held.entry)) {
      this.unread.add(entry.id);
      return false;
    }
    if (MENDING_KINDS.includes(held.entry.kind)) {
      const rootId = rootOf(held.entry);
      this.#mendings.set(rootId, (this.#mendings.get(rootId) ?? new Set()).add(entry.id));
    }
    return true;
  }

  /**
   * @param {Set<string>} roots
   * @returns {Change[]}
   */
  #tellAgain(roots) {
    const changes = [];
    for (const rootId of roots) {
      const [old, now] = [this.byRoot.get(rootId) ?? null, this.#tell(rootId)];
      if (now === null) this.byRoot.delete(rootId);
      else this.byRoot.set(rootId, now);
      changes.push({ old, now });
    }
    return changes;
  }

  /** @param {string} rootId */
  #tell(rootId) {
    const root = this.#held.get(rootId);
    if (root === undefined || this.unread.has(rootId)) return null;
    if (MENDING_KINDS.includes(root.entry.kind)) return null;
    const mendingIds = this.#mendings.get(rootId);
    if (mendingIds === undefined) return tell(root, []);
    /** @type {Held[]} */
    const mendings = [];
    for (const one of mendingIds) {
      const held = this.#held.get(one);
      if (held !== undefined) mendings.push(held);
    }
    return tell(root, mendings);
  }
}
