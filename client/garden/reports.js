// @ts-check
// What the shed alone works out. An answer is kept with its time, so that it can be read again, and
// doubted by its age, where there is no shed in reach.
import { writeMeta } from "../store/meta.js";
import { SyncError } from "../sync/errors.js";
import { send } from "../sync/protocol.js";

/** @typedef {import("../garden.js").Garden} Garden */
/** @typedef {import("../types.js").Reports} Reports */

/** @type {Reports} */
export const NO_REPORTS = { told: {}, asking: null, error: null };

/**
 * Asks for a report by its name below the garden, such as "review?season=2026".
 * @param {Garden} garden @param {string} name
 */
export async function askShed(garden, name) {
  const { held } = garden;
  const gardenId = held.session?.garden.id;
  if (gardenId === undefined || held.reports.asking === name) return;
  held.reports = { ...held.reports, asking: name, error: null };
  garden.changed();
  try {
    const answer = await send("GET", `/api/gardens/${gardenId}/${name}`);
    // The phone may have left the garden while it waited.
    if (held.session?.garden.id !== gardenId) return;
    const told = { ...held.reports.told, [name]: { atMs: Date.now(), answer } };
    await writeMeta(garden.store, "reports", told);
    held.reports = { told, asking: null, error: null };
  } catch (error) {
    if (!(error instanceof SyncError)) throw error;
    held.reports = { ...held.reports, asking: null, error: error.code };
  } finally {
    garden.changed();
  }
}
