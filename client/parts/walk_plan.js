// @ts-check
// The path of a scouting walk on the bed's plan: each plant with its turn, or with what was seen.
import { isFound, nextPlant } from "../garden/walk_reading.js";
import { isWritten } from "../garden/walk_written.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { plan } from "./plan.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Walk} Walk */
/** @typedef {import("../types.js").WalkTap} WalkTap */
/** @typedef {import("./plan_marks.js").Mark} Mark */

/** @type {Record<string, number>} */
const GRADE_LEVELS = { few: 2, some: 3, many: 4 };
const COUNTED_LEVEL = 3;

/**
 * Tapping a plant whose turn is still to come makes it the next one.
 * @param {State} state @param {Actions} actions @param {Walk} walk @param {Planting} planting
 */
export function walkPlan(state, actions, walk, planting) {
  const bed = planting.bed ? state.look.bed(planting.bed) : undefined;
  if (!bed) return nothing;
  const next = isWritten(state, walk) ? undefined : nextPlant(walk);
  const seen = new Map(walk.taps.map((tap) => [tap.plant, tap]));
  const turns = new Map(walk.order.map((plant, at) => [plant, at + 1]));
  return html`<section class="stack" aria-labelledby="walk-path">
    <h2 id="walk-path">${state.say("screen.scout_walk.path")}</h2>
    ${plan(state, bed, [planting], {
      chosen: { planting: planting.id, plants: next === undefined ? [] : [next] },
      change: ({ plants }) => {
        const wanted = plants.find((plant) => plant !== next);
        const at = wanted === undefined ? -1 : walk.order.indexOf(wanted, walk.taps.length);
        if (at < 0 || isWritten(state, walk)) return;
        const order = [...walk.order];
        order.splice(walk.taps.length, 0, ...order.splice(at, 1));
        void actions.keepWalk({ ...walk, order });
      },
      markOf: ({ ordinal }) => {
        const tap = seen.get(ordinal);
        if (tap) return seenMark(state, tap);
        const turn = turns.get(ordinal);
        if (turn === undefined) return undefined;
        const words = state.say("screen.scout_walk.turn", { turn });
        return { level: 0, figure: String(turn), words, isPlain: true };
      },
    })}
  </section>`;
}

/** @param {State} state @param {WalkTap} tap @returns {Mark} */
function seenMark(state, tap) {
  if (tap.found === null)
    return { level: 0, figure: "·", words: state.say("screen.scout_walk.skipped"), isPlain: true };
  if (!isFound(tap))
    return { level: 0, figure: "–", words: state.say("screen.layers.found_none") };
  if (!tap.grade) {
    const words = state.say("screen.layers.found_count", { count: tap.found });
    return { level: COUNTED_LEVEL, figure: String(tap.found), words };
  }
  const words = state.say(`choice.grade.${tap.grade}`);
  return { level: GRADE_LEVELS[tap.grade] ?? 1, figure: words.slice(0, 1), words };
}
