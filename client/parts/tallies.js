// @ts-check
// What came of each planting, added up for the evening's table.

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */
/**
 * @typedef {{planting: Planting, count: number, mass: number, discarded: number, lastDay: number}}
 *   Tally
 */

/**
 * Plantings that were picked from or discarded from, the latest first.
 * @param {State} state @returns {Tally[]}
 */
export function talliesOf(state) {
  /** @type {Map<string, Tally>} */
  const tallies = new Map();
  for (const kind of ["pick", "discard"])
    for (const event of state.look.events({ kind })) {
      const planting = event.planting ? state.look.planting(event.planting) : undefined;
      if (!planting || planting.hidden) continue;
      const tally = tallies.get(planting.id) ?? {
        planting,
        count: 0,
        mass: 0,
        discarded: 0,
        lastDay: 0,
      };
      tallies.set(planting.id, tally);
      const count = Number(event.details.count) || 0;
      tally.lastDay = Math.max(tally.lastDay, event.day);
      if (kind === "discard") tally.discarded += count;
      else {
        tally.count += count;
        tally.mass += Number(event.details.mass_g) || 0;
      }
    }
  return [...tallies.values()].sort((a, b) => b.lastDay - a.lastDay);
}
