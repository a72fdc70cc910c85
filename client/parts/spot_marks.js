// @ts-check
// Places in a bed where a trouble of the soil was seen: a crossed ring on the plan, told in words.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("./plan_drawing.js").Place} Place */
/** @typedef {{planting: {id: string}, ordinal: number, x: number, y: number}} Spot */

const RING = 13;

/** @param {State} state @param {Bed} bed */
const spotsIn = (state, bed) => state.look.events({ bed: bed.id, kind: "spot" });

/**
 * Where a place lies: as it was measured, else where its plants stand.
 * @param {LoggedEvent} event @param {Spot[]} plants
 * @returns {[number, number][]}
 */
function placesOf({ details, planting, plants: ordinals }, plants) {
  const { x_m: x, y_m: y } = details;
  if (typeof x === "number" && typeof y === "number") return [[x, y]];
  return plants
    .filter((plant) => plant.planting.id === planting && ordinals?.includes(plant.ordinal))
    .map((plant) => [plant.x, plant.y]);
}

/** How far along the bed places were measured. @param {State} state @param {Bed} bed */
export const markedAlong = (state, bed) =>
  spotsIn(state, bed).flatMap((event) => placesOf(event, []).map(([x]) => x));

/** @param {State} state @param {LoggedEvent} event */
const nameOf = (state, { day, details }) =>
  state.say("screen.spots.mark", { trouble: details.trouble, seen_day: day });

/** @param {State} state @param {Bed} bed @param {Spot[]} plants @param {Place} place */
export const spotLayer = (state, bed, plants, place) =>
  spotsIn(state, bed).flatMap((event) =>
    placesOf(event, plants).map(
      ([x, y]) => svg`<g class="plan-spot" role="img" aria-label=${nameOf(state, event)}
        transform="translate(${place.at(x, y).join(" ")})">
        <title>${nameOf(state, event)}</title>
        <circle r=${RING}></circle>
        <path d="M${-RING - 4} 0H${RING + 4}M0 ${-RING - 4}V${RING + 4}"></path></g>`,
    ),
  );

/** @param {State} state @param {Bed} bed */
export function spotKey(state, bed) {
  const events = spotsIn(state, bed);
  if (!events.length) return nothing;
  return html`<ul class="plan-key">
    <li>
      <svg viewBox="-20 -20 40 40" width="24" height="24" aria-hidden="true">
        <g class="plan-spot"><circle r=${RING}></circle><path d="M-17 0H17M0-17V17"></path></g>
      </svg>
      <span>${state.say("screen.spots.key")}</span>
    </li>
    ${events.map((event) => html`<li>${nameOf(state, event)}</li>`)}
  </ul>`;
}
