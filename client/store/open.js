// @ts-check
// The phone's database: the log, what waits for the shed, what needs attention, and a few values.
import { openDB } from "../vendor/idb/index.js";
import { BOOK } from "./which.js";

/** @typedef {import("./schema.js").Schema} Schema */
/** @typedef {import("./schema.js").Store} Store */

const VERSION = 2;
const WAITS_MS = [200, 600, 1800];

/** Every write that must survive a power cut asks for this. */
export const STRICT = /** @type {const} */ ({ durability: "strict" });

/**
 * Opens the database, making or upgrading it.
 * @param {string} notebook id for the notebook, used only when the database is made
 * @param {() => void} onOutdated a newer page needs this connection out of its way, or it broke
 * @param {string} [book] another than this page's own
 * @returns {Promise<Store>}
 */
export async function openStore(notebook, onOutdated, book = BOOK) {
  /** @type {Store} */
  const store = await patiently(() => openDB(book, VERSION, {
    upgrade(database, oldVersion, _newVersion, transaction) {
      if (oldVersion < 1) {
        const entries = database.createObjectStore("entries", { keyPath: "id" });
        entries.createIndex("notebook", "notebook");
        database.createObjectStore("outbox", { keyPath: "id" });
        database.createObjectStore("attention", { keyPath: "id" });
        database.createObjectStore("meta");
        // Made with the store, so that a store lost with its numbers never reuses a notebook.
        const meta = transaction.objectStore("meta");
        meta.put({ id: notebook, number: 0, clock: "0000000000000000" }, "notebook");
        meta.put([notebook], "notebooks");
      }
      if (oldVersion < 2) {
        database.createObjectStore("photos", { keyPath: "id" });
        database.createObjectStore("images", { keyPath: "id" });
      }
    },
    blocking() {
      store.close();
      onOutdated();
    },
    terminated: onOutdated,
  }));
  return store;
}

/**
 * A browser that was killed may still hold its files while it is started again.
 * @template T
 * @param {() => Promise<T>} open
 */
async function patiently(open) {
  for (const wait of WAITS_MS) {
    try {
      return await open();
    } catch (error) {
      if (!(error instanceof DOMException) || error.name !== "UnknownError") throw error;
      await new Promise((done) => setTimeout(done, wait));
    }
  }
  return open();
}
