// @ts-check
// The example garden: fetched from the shed once, then played with on this phone alone. It lives in
// a book of its own, so that nothing of it can reach the garden's log.
import { STRICT, openStore } from "../store/open.js";
import { readMeta, writeMeta } from "../store/meta.js";
import { BOOK, GARDEN_ADDRESS, GARDEN_BOOK } from "../store/which.js";
import { DIGEST } from "../served.js";
import { SyncError } from "../sync/errors.js";
import { EXAMPLE_PATH, send } from "../sync/protocol.js";
import { browserZone } from "../zone.js";
import { freshId } from "./edge.js";

/** @typedef {import("../store/schema.js").Store} Store */
/** @typedef {import("../types.js").Person} Person */
/**
 * @typedef {{garden: import("../types.js").Session["garden"], person: Person,
 *   device: {id: string, name: string}, people: Person[], entries: import("../types.js").Entry[]}}
 *   Example
 */

/**
 * Fills the example's store when it is opened for the first time; without the shed it stays empty,
 * which the page then tells.
 * @param {Store} store
 */
export async function fillExample(store) {
  if (await readMeta(store, "session")) return;
  try {
    const path = `${EXAMPLE_PATH}?zone=${encodeURIComponent(browserZone())}`;
    const example = /** @type {Example} */ (await send("GET", path));
    await copyPreferences(store);
    await keep(store, example, Date.now());
  } catch (error) {
    if (!(error instanceof SyncError)) throw error;
  }
}

/** The person sees the example as they see their garden. @param {Store} store */
async function copyPreferences(store) {
  const own = await openStore(freshId(), () => undefined, GARDEN_BOOK);
  const chosen = await readMeta(own, "preferences");
  own.close();
  if (chosen) await writeMeta(store, "preferences", chosen);
}

/** @param {Store} store @param {Example} example @param {number} nowMs */
async function keep(store, { garden, person, device, people, entries }, nowMs) {
  const tx = store.transaction(["entries", "meta"], "readwrite", STRICT);
  const meta = tx.objectStore("meta");
  for (const entry of entries) tx.objectStore("entries").put(entry);
  meta.put({ garden, person, device, role: "lead" }, "session");
  meta.put(garden.id, "notebookGarden");
  meta.put({
    lastSyncMs: nowMs, knownAtMs: nowMs, devices: [], people, missing: [], clockOff: null,
    assets: DIGEST, role: "lead",
  }, "heard");
  await tx.done;
}

/**
 * The example is gone for good, and the page is back in the garden.
 * @param {import("../garden.js").Garden} garden
 */
export async function throwExampleAway(garden) {
  garden.store.close();
  await new Promise((done) => {
    const asked = indexedDB.deleteDatabase(BOOK);
    // Another tab that has it open lets go by itself; it is deleted then.
    asked.onsuccess = asked.onerror = asked.onblocked = done;
  });
  location.replace(GARDEN_ADDRESS);
}
