// @ts-check
// Treatments and raw manure that are on this phone but in no reckoning: of a newer version,
// untellable, set aside or refused. Nobody can say how long they hold work back.

import { makesWait } from "./permission.js";

/** @typedef {import("../types.js").Attention} Attention */
/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("./standing.js").Standing} Standing */

/**
 * Answers, for a place, the ids of such entries that may concern it.
 * @param {Standing} standing
 * @param {readonly Attention[]} attention
 * @returns {(subject: Subjects) => string[]}
 */
export function uncountedTreatments(standing, attention) {
  const outside = attention.filter((row) => !row.mended_by
    && (row.result === "refused" || row.result === "set_aside"));
  const found = [...standing.untold(), ...outside.map((row) => row.entry)]
    .filter((entry) => isAboutTreatment(standing, entry));
  const places = found.map((entry) => ({ id: entry.id, places: placesOf(standing, entry) }));
  return ({ bed, planting }) => {
    const asked = new Set([bed, planting, ...bedsOf(standing.ledger.planting(planting ?? ""))]);
    return places
      .filter((one) => !one.places.length || one.places.some((place) => asked.has(place)))
      .map((one) => one.id);
  };
}

/**
 * A correction may lengthen what a label asks; taking a treatment back never does.
 * @param {Standing} standing
 * @param {Entry} entry
 */
function isAboutTreatment(standing, { kind, details }) {
  if (kind !== "correct") return makesWait(kind, details);
  const root = rootOf(standing, details);
  return makesWait(details?.kind, details?.restated) || makesWait(root?.kind, root?.details);
}

/** @param {Standing} standing @param {Entry["details"] | null} details */
const rootOf = (standing, details) => standing.entries.get(String(details?.entry));

/**
 * The beds and plantings that an entry or its root names, and the beds of those plantings; none
 * when it names no place that can be read, and may be about any.
 * @param {Standing} standing
 * @param {Entry} entry
 */
function placesOf(standing, entry) {
  const named = [entry.subjects, rootOf(standing, entry.details)?.subjects]
    .flatMap((subjects) => [subjects?.bed, subjects?.planting])
    .filter((place) => typeof place === "string");
  const beds = named.flatMap((place) => bedsOf(standing.ledger.planting(place)));
  return [...named, ...beds];
}

/**
 * Every bed that a planting is known to have stood in.
 * @param {Planting | null} planting
 * @returns {string[]}
 */
function bedsOf(planting) {
  const { bed, beds } = /** @type {{bed?: string, beds?: string[]}} */ (planting ?? {});
  return [...(bed === undefined ? [] : [bed]), ...(beds ?? [])];
}
