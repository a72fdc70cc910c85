// @ts-check
// What was written lately, nearest first: for the very plants, then in their bed, then anywhere in
// the garden.
import { gist } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */

const LOOKED_BACK = 20;
/** Words and moments belong to the one time that they were written for. */
const OF_ONE_TIME = new Set(["long_text", "moment", "date"]);

/**
 * Entries of a kind, those that lie nearest to the subjects first, each part newest first.
 * @param {State} state @param {string} kind @param {Subjects} subjects
 * @returns {LoggedEvent[]}
 */
export function recentEvents(state, kind, { bed, planting }) {
  const places = [...(planting ? [{ planting }] : []), ...(bed ? [{ bed }] : []), {}];
  const found = places.flatMap((place) =>
    state.look.events({ ...place, kind, limit: LOOKED_BACK }),
  );
  return [...new Map(found.map((event) => [event.id, event])).values()];
}

/**
 * Different contents of a kind, which can be written again as they are.
 * @param {State} state @param {string} kind @param {Subjects} subjects @param {number} most
 * @param {{isAlike?: boolean}} [how] only of work on as much: an amount for a bed is none for a plant
 * @returns {Details[]}
 */
export function recentDetails(state, kind, subjects, most, { isAlike = false } = {}) {
  /** @type {Map<string, Details>} */
  const seen = new Map();
  for (const event of recentEvents(state, kind, subjects)) {
    if (seen.size === most) break;
    if (isAlike && reachOf(event) !== reachOf(subjects)) continue;
    const details = again(state, kind, event.details);
    const words = gist(state, kind, details);
    if (words && !seen.has(words)) seen.set(words, details);
  }
  return [...seen.values()];
}

/** On how much it was done. @param {Subjects} subjects */
const reachOf = ({ bed, planting, plants }) =>
  plants?.length ?? (planting ? "planting" : bed ? "bed" : "garden");

/** @param {State} state @param {string} kind @param {Details} details @returns {Details} */
function again(state, kind, details) {
  const fields = state.look.kind(kind)?.fields ?? [];
  const once = new Set(
    fields.filter((field) => OF_ONE_TIME.has(field.type)).map((field) => field.name),
  );
  return Object.fromEntries(Object.entries(details).filter(([name]) => !once.has(name)));
}
