// @ts-check
// How this phone talks to its person: language and units, the look for full sun, the thumb.
import { readMeta, writeMeta } from "../store/meta.js";
import { usualUnits } from "../units.js";
import { browserZone } from "../zone.js";
import { loadWords } from "./edge.js";

/** @typedef {import("../types.js").Preferences} Preferences */

// Whoever asks the device for less motion is not shaken either, until they choose it.
const LESS_MOTION = "(prefers-reduced-motion: reduce)";

/**
 * What holds until the person chooses.
 * @returns {Preferences}
 */
const usual = () => ({
  units: usualUnits(navigator.languages, browserZone()),
  look: "device",
  hand: "right",
  buzz: matchMedia(LESS_MOTION).matches ? "off" : "on",
  skipped: [],
});

/**
 * @param {import("../store/schema.js").Store} store
 * @returns {Promise<Preferences>}
 */
export const readPreferences = async (store) =>
  ({ ...usual(), ...(await readMeta(store, "preferences")) });

/**
 * Follows the person's choice from now on. Words that are neither kept here nor to be had from the
 * shed leave everything as it was, and that is told.
 * @param {import("../garden.js").Garden} garden
 * @param {Partial<Preferences>} change
 */
export async function prefer(garden, change) {
  const { held, store } = garden;
  const { language } = change;
  if (language !== undefined && language !== held.assets.language) {
    try {
      held.assets = { ...held.assets, words: await loadWords(language), language };
    } catch {
      return garden.notice("trouble", { key: "error.no_words", values: {} });
    }
  }
  held.preferences = { ...held.preferences, ...change };
  await writeMeta(store, "preferences", held.preferences);
  garden.changed();
}
