// @ts-check
// The bed to scale with its plants where they stand; tap plants to choose them, or drag over them.
// Plantings differ by shape, not by colour; a layer marks each plant by size, shape and figure.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";
import { edges, outline, rowLines, scaleBar } from "./plan_drawing.js";
import { groundOf, MARGIN } from "./plan_ground.js";
import { drawMark } from "./plan_marks.js";
import { plansKey } from "./plan_keys.js";
import { sweepEnd, sweepFrom, sweepOn } from "./plan_sweep.js";
import { lifted, pinched, showWhole, touched, zoom } from "./plan_zoom.js";
import { toggled } from "./plant_numbers.js";
import { spotKey, spotLayer } from "./spot_marks.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("./plan_ground.js").Ground} Ground */
/** @typedef {import("./plan_ground.js").Spot} Spot */
/** @typedef {import("./plan_marks.js").MarkOf} MarkOf */
/** @typedef {{planting: string | undefined, plants: number[]}} Chosen */
/**
 * @typedef {object} Planned
 * @property {Chosen} chosen
 * @property {(next: Chosen) => void} change
 * @property {boolean} [isSweeping] does a drag choose plants, rather than move the plan?
 * @property {MarkOf} [markOf] what a layer says of each plant
 */

/** @param {State} state @param {Bed} bed @param {Planting[]} plantings @param {Planned} planned */
export function plan(state, bed, plantings, planned) {
  const ground = groundOf(state, bed, plantings);
  if (!ground) return nothing;
  const { place, length, width } = ground;
  return html`<figure class="plan">
    <div
      class="plan-ground ${planned.isSweeping ? "is-sweeping" : ""} ${
        place.width > place.height ? "plan-lying" : ""
      }"
      role="group"
      tabindex="0"
      aria-label=${state.say("screen.plan.name", { bed: bed.id })}
      @pointerdown=${(/** @type {PointerEvent} */ event) => down(event, planned)}
      @pointermove=${(/** @type {PointerEvent} */ event) => move(event, ground, planned)}
      @pointerup=${(/** @type {PointerEvent} */ event) => up(event, ground, planned)}
      @pointercancel=${(/** @type {PointerEvent} */ event) => up(event, ground, planned)}
    >
      <svg
        viewBox="0 0 ${place.width} ${place.height}"
        width=${place.width}
        height=${place.height}
        @click=${(/** @type {Event} */ event) => tapped(event, ground, planned)}
        @keydown=${plansKey(ground.spots, (spot) => choose(spot, planned))}
      >
        ${edges(place, length, width)}
        ${rowLines(
          ground.spots.map((spot) => spot.y),
          place,
        )}
        ${ground.spots.map((spot, at) => plant(spot, at, ground, planned))}
        ${spotLayer(state, bed, ground.spots, place)}
        ${scaleBar(
          state,
          { x: MARGIN, y: place.height - 6 },
          place.scale,
          place.part.to - place.part.from,
        )}
      </svg>
    </div>
    <div class="plan-zoom">${zoomButtons(state)}</div>
    <figcaption class="small">
      <span>${state.say("screen.plan.size", { length_m: length, width_m: width })}</span>
      ${plantings.length > 1 ? key(state, plantings) : nothing} ${spotKey(state, bed)}
    </figcaption>
  </figure>`;
}

/** @param {State} state */
function zoomButtons(state) {
  const on = (/** @type {(ground: HTMLElement) => void} */ work) => (/** @type {Event} */ event) => {
    const figure = /** @type {Element} */ (event.currentTarget).closest("figure");
    work(/** @type {HTMLElement} */ (figure?.querySelector(".plan-ground")));
  };
  const button = (/** @type {string} */ name, /** @type {unknown} */ words, /** @type {any} */ work) =>
    html`<button
      type="button"
      class="press press-quiet"
      aria-label=${state.say(`screen.plan.${name}`)}
      @click=${on(work)}
    >
      ${words}
    </button>`;
  return html`${button("smaller", "−", (/** @type {HTMLElement} */ one) => zoom(one, -1))}
  ${button("larger", "+", (/** @type {HTMLElement} */ one) => zoom(one, 1))}
  ${button("whole", state.say("screen.plan.whole"), showWhole)}`;
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

/** @param {Spot} spot @param {number} at @param {Ground} ground @param {Planned} planned */
function plant(spot, at, { spots, radius }, { chosen, markOf }) {
  const move = `translate(${spot.px} ${spot.py})`;
  const mark = markOf?.(spot);
  const told = mark ? `${spot.name}: ${mark.words}` : spot.name;
  if (!spot.live)
    return mark
      ? svg`<g transform=${move} class="plan-gone" role="img" aria-label=${told}
        ><path d="M-6-6 6 6M6-6-6 6"></path></g>`
      : svg`<g transform=${move} class="plan-gone"><path d="M-6-6 6 6M6-6-6 6"></path></g>`;
  const isChosen = chosen.planting === spot.planting.id && chosen.plants.includes(spot.ordinal);
  const isFirst = at === spots.findIndex(({ live }) => live);
  return svg`<g transform=${move} class="plan-plant ${isChosen ? "is-chosen" : ""}"
    role="checkbox" tabindex=${isFirst ? "0" : "-1"} data-at=${at}
    aria-checked=${isChosen ? "true" : "false"} aria-label=${told}>
    <circle class="plan-touch" r=${radius + 4}></circle>${outline(spot.shape, radius)}
    ${
      markOf
        ? drawMark(mark, radius)
        : svg`<text y="5" aria-hidden="true">${spot.ordinal}</text>`
    }</g>`;
}

/** @param {Event} event @param {Ground} ground @param {Planned} planned */
function tapped(event, { spots }, planned) {
  const on = /** @type {Element} */ (event.target).closest("[data-at]");
  if (on) choose(spots[Number(on.getAttribute("data-at"))], planned);
}

/** @param {Spot} spot @param {Planned} planned */
function choose({ planting, ordinal }, { chosen, change }) {
  const plants = chosen.planting === planting.id ? toggled(chosen.plants, [ordinal]) : [ordinal];
  change({ planting: planting.id, plants });
}

/** @param {PointerEvent} event @param {Planned} planned */
function down(event, { isSweeping }) {
  if (touched(event)) sweepEnd(event);
  else if (isSweeping && event.isPrimary) sweepFrom(event);
}

/** @param {PointerEvent} event @param {Ground} ground @param {Planned} planned */
function move(event, { spots, radius }, { isSweeping }) {
  if (!pinched(event) && isSweeping) sweepOn(event, spots, radius);
}

/**
 * A sweep is of one planting: of the chosen one, else of the first that was passed.
 * @param {PointerEvent} event @param {Ground} ground @param {Planned} planned
 */
function up(event, { spots }, { chosen, change }) {
  lifted(event);
  const passed = sweepEnd(event).map((at) => spots[at]);
  if (!passed.length) return;
  const isOfChosen = passed.some(({ planting }) => planting.id === chosen.planting);
  const of = isOfChosen ? chosen.planting : passed[0].planting.id;
  const before = chosen.planting === of ? chosen.plants : [];
  const swept = passed.filter(({ planting }) => planting.id === of).map(({ ordinal }) => ordinal);
  change({ planting: of, plants: [...new Set([...before, ...swept])].sort((a, b) => a - b) });
}
