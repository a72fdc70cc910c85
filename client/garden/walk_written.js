// @ts-check
// Whether a scouting walk stands in the log, as it was told.
import { freshId } from "./edge.js";

/** @typedef {import("../types.js").Walk} Walk */

/**
 * The walk with other taps, which is another entry: what storage refused to write of the former ones
 * may come into the log yet, and would pass for all of the walk.
 * @param {Walk} walk
 * @param {Walk["taps"]} taps
 * @returns {Walk}
 */
export const withTaps = (walk, taps) => ({ ...walk, taps, entry: freshId() });

/**
 * The browser may have been killed before it could mark the walk: its entry is there all the same.
 * @param {import("../types.js").State} state
 * @param {Walk} walk
 */
export const isWritten = (state, walk) =>
  walk.writtenMs !== undefined || state.look.entry(walk.entry) !== undefined;
