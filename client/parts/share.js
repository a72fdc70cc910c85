// @ts-check
// A share with how far it can be trusted, in words.

/** @typedef {import("../types.js").State} State */

/**
 * "15% (9% to 24%)", or a dash where it is not known.
 * @param {State} state
 * @param {{affected_share: number | null, low_share: number | null, high_share: number | null}} told
 */
export function share(state, { affected_share, low_share, high_share }) {
  if (affected_share === null) return "–";
  return state.say("screen.scouting.share", { affected_share, low_share, high_share });
}
