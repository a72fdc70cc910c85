// @ts-check
// Whether a scouting walk stands in the log.

/**
 * The browser may have been killed before it could mark the walk: its entry is there all the same.
 * @param {import("../types.js").State} state
 * @param {import("../types.js").Walk} walk
 */
export const isWritten = (state, walk) =>
  walk.writtenMs !== undefined || state.look.entry(walk.entry) !== undefined;
