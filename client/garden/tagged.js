// @ts-check
// What a tag can hang on: a bed, a planting, or one plant of it. Its key is what its code is made of.
import { makeCodes, keysOf } from "./tag_codes.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {{bed: string} | {planting: string, plant?: number}} Tagged */

/** @param {Tagged} tagged */
export const keyOf = (tagged) => {
  if ("bed" in tagged) return tagged.bed;
  return tagged.plant === undefined ? tagged.planting : `${tagged.planting}/${tagged.plant}`;
};

/**
 * Every code of the garden, also of what is not tagged: a code must stand for one thing alone.
 * @param {State} state
 */
export const codesOf = (state) => makeCodes([...tagsOf(state).keys()]);

/**
 * What a code may mean here.
 * @param {State} state @param {string} body of the code
 * @returns {Tagged[]}
 */
export function taggedBy(state, body) {
  const all = tagsOf(state);
  return keysOf([...all.keys()], body).flatMap((key) => all.get(key) ?? []);
}

/**
 * Removed plants too: their tags may still hang there.
 * @param {State} state @returns {Map<string, Tagged>}
 */
function tagsOf(state) {
  const beds = state.beds.map((bed) => ({ bed: bed.id }));
  const plantings = state.plantings.flatMap(({ id, plants }) => [
    { planting: id },
    ...Array.from({ length: Number(plants) || 0 }, (_, at) => ({ planting: id, plant: at + 1 })),
  ]);
  return new Map([...beds, ...plantings].map((tagged) => [keyOf(tagged), tagged]));
}
