// @ts-check
// The bed to scale with its plants where they stand; tap plants to choose them. Plantings differ by
// shape, not by colour, and every plant has its number.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";
import { plantsPerRow, positionOf, rowOf } from "../log/layout.js";
import { edges, outline, rowLines, scaleBar, shownPart } from "./plan_drawing.js";
import { toggled } from "./plant_numbers.js";
import { markedAlong, spotKey, spotLayer } from "./spot_marks.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("./plan_drawing.js").Place} Place */
/** @typedef {{start: number, bed: Bed}} Part */
/** @typedef {{planting: string | undefined, plants: number[]}} Chosen */
/**
 * @typedef {{planting: Planting, ordinal: number, x: number, y: number, live: boolean, shape:
 *   number}} Spot
 */

const LEAST_TARGET = 31;
const FULL_WIDTH = 326;
const MARGIN = 14;

/**
 * @param {State} state @param {Bed} bed @param {Planting[]} plantings
 * @param {Chosen} chosen @param {(next: Chosen) => void} change
 */
export function plan(state, bed, plantings, chosen, change) {
  const parts = partsOf(bed, plantings);
  const spots = plantings.flatMap((planting, shape) =>
    spotsOf(state, parts[shape], planting, shape),
  );
  if (!spots.length) return nothing;
  const length = Number(bed.length_m) || Math.max(...spots.map((spot) => spot.x)) + 0.25;
  const width = Number(bed.width_m) || Math.max(...spots.map((spot) => spot.y)) + 0.25;
  const pitch = pitchOf(spots);
  const part = shownPart(
    [...spots.map((spot) => spot.x), ...markedAlong(state, bed)],
    length,
  );
  const shown = part.to - part.from;
  const scale = Math.max(FULL_WIDTH / shown, LEAST_TARGET / pitch);
  const radius = Math.min(19, pitch * scale * 0.44);
  const size = { width: shown * scale + 2 * MARGIN, height: width * scale + 2 * MARGIN + 22 };
  /** @type {Place} */
  const place = {
    x: (metres) => MARGIN + (metres - part.from) * scale,
    y: (metres) => MARGIN + metres * scale,
  };
  const choose = (/** @type {Spot} */ spot) =>
    change(
      chosen.planting === spot.planting.id
        ? { planting: spot.planting.id, plants: toggled(chosen.plants, [spot.ordinal]) }
        : { planting: spot.planting.id, plants: [spot.ordinal] },
    );
  return html`<figure class="plan">
    <div
      class="plan-ground"
      role="group"
      tabindex="0"
      aria-label=${state.say("screen.plan.name", { bed: bed.id })}
    >
      <svg viewBox="0 0 ${size.width} ${size.height}" width=${size.width} height=${size.height}>
        ${edges(place, part, length, width)}
        ${rowLines(
          spots.map((spot) => spot.y),
          place,
          part,
        )}
        ${spots.map((spot) => plant(state, spot, place, radius, chosen, choose))}
        ${spotLayer(state, bed, spots, place)}
        ${scaleBar(state, { x: MARGIN, y: size.height - 6 }, scale, shown)}
      </svg>
    </div>
    <figcaption class="small">
      <span>${state.say("screen.plan.size", { length_m: length, width_m: width })}</span>
      ${plantings.length > 1 ? key(state, plantings) : nothing} ${spotKey(state, bed)}
    </figcaption>
  </figure>`;
}

/** @param {State} state @param {Planting[]} plantings */
const key = (state, plantings) =>
  html`<ul class="plan-key">
    ${plantings.map(
      (planting, shape) =>
        html`<li>
          <svg viewBox="-12 -12 24 24" width="24" height="24" aria-hidden="true">
            ${outline(shape, 9)}
          </svg>
          <span>${state.say("screen.who.planting", { planting: planting.id })}</span>
        </li>`,
    )}
  </ul>`;

/**
 * Where each planting has its place along the bed: one after the other where they fit so, else each
 * over the whole bed.
 * @param {Bed} bed
 * @param {Planting[]} plantings
 * @returns {Part[]}
 */
function partsOf(bed, plantings) {
  const bedLength = Number(bed.length_m) || 0;
  const lengths = plantings.map(
    (planting) =>
      plantsPerRow(Number(planting.plants) || 0, Number(planting.rows) || 1) *
      (Number(planting.in_row_m) || 0),
  );
  const total = lengths.reduce((sum, length) => sum + length, 0);
  if (lengths.length < 2 || lengths.some((length) => !length) || total > bedLength)
    return plantings.map(() => ({ start: 0, bed }));
  let start = (bedLength - total) / 2;
  return lengths.map((length) => {
    const part = { start, bed: { ...bed, length_m: length } };
    start += length;
    return part;
  });
}

/**
 * @param {State} state
 * @param {Part} part
 * @param {Planting} planting
 * @param {number} shape
 * @returns {Spot[]}
 */
function spotsOf(state, part, planting, shape) {
  const live = new Set(state.look.livePlants(planting));
  return Array.from({ length: Number(planting.plants) || 0 }, (_, at) => {
    const [x, y] = positionOf(at + 1, planting, part.bed);
    return { planting, ordinal: at + 1, x: part.start + x, y, live: live.has(at + 1), shape };
  });
}

/**
 * The least distance between neighbours, so that a finger finds one plant.
 * @param {Spot[]} spots
 */
function pitchOf(spots) {
  let least = Infinity;
  for (let at = 1; at < spots.length; at += 1) {
    const [a, b] = [spots[at - 1], spots[at]];
    if (a.planting === b.planting)
      least = Math.min(least, Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y)));
  }
  return Number.isFinite(least) && least > 0.05 ? least : 0.4;
}

/**
 * @param {State} state
 * @param {Spot} spot
 * @param {Place} place
 * @param {number} radius
 * @param {Chosen} chosen @param {(spot: Spot) => void} choose
 */
function plant(state, spot, place, radius, chosen, choose) {
  const at = `translate(${place.x(spot.x)} ${place.y(spot.y)})`;
  if (!spot.live)
    return svg`<g transform=${at} class="plan-gone"><path d="M-6-6 6 6M6-6-6 6"></path></g>`;
  const isChosen = chosen.planting === spot.planting.id && chosen.plants.includes(spot.ordinal);
  const name = state.say("screen.plan.plant", {
    number: spot.ordinal,
    row: rowOf(spot.ordinal, Number(spot.planting.plants), Number(spot.planting.rows) || 1),
    planting: spot.planting.id,
  });
  const onKey = (/** @type {KeyboardEvent} */ event) => {
    if (event.key !== " " && event.key !== "Enter") return;
    event.preventDefault();
    choose(spot);
  };
  return svg`<g transform=${at} class="plan-plant ${
    isChosen ? "is-chosen" : ""
  }" role="checkbox" tabindex="0"
    aria-checked=${isChosen ? "true" : "false"} aria-label=${name}
    @click=${() => choose(spot)} @keydown=${onKey}>
    <circle class="plan-touch" r=${radius + 4}></circle>${outline(spot.shape, radius)}
    <text y="5" aria-hidden="true">${spot.ordinal}</text></g>`;
}
