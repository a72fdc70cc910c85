// @ts-check
// What the plan shows, chosen by large buttons, and the same in words for who can't see it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { foundLayer, daysLooked, organismsIn } from "./plan_found.js";
import { groundOf } from "./plan_ground.js";
import { goneLayer, layerOf, LAYERS } from "./plan_layers.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("./plan_layers.js").Layer} Layer */
/** @typedef {import("./plan_layers.js").LayerName} LayerName */
/** @typedef {{layer: LayerName, organism?: string, day?: number}} Seen `day`: of the days looked,
 *   the last one where none is chosen */

/** @param {State} state @param {Bed} bed @param {Seen} seen @returns {Layer | undefined} */
export function seenLayer(state, bed, seen) {
  if (seen.layer === "plants") return undefined;
  if (seen.layer === "gone") return goneLayer(state, bed);
  if (seen.layer !== "found") return layerOf(state, bed, seen.layer);
  const at = lookedAt(state, bed, seen);
  return at ? foundLayer(state, bed, at.organism, at.day) : undefined;
}

/** @param {State} state @param {LayerName} layer */
const nameOf = (state, layer) =>
  state.say(`screen.layers.${layer === "gone" ? "taken_out" : layer}`);

/** The organism and the day that are shown. @param {State} state @param {Bed} bed @param {Seen} seen */
function lookedAt(state, bed, seen) {
  const organisms = organismsIn(state, bed);
  const organism = organisms.find((one) => one === seen.organism) ?? organisms[0];
  if (organism === undefined) return undefined;
  const days = daysLooked(state, bed, organism);
  const place = seen.day === undefined ? days.length - 1 : Math.max(days.indexOf(seen.day), 0);
  return { organisms, organism, days, place, day: days[place] };
}

/**
 * @param {State} state @param {Bed} bed @param {Seen} seen
 * @param {(next: Partial<Seen>) => void} change
 */
export function layerChoice(state, bed, seen, change) {
  return html`<div class="stack">
    <div class="presses presses-three" role="group" aria-label=${state.say("screen.layers.name")}>
      ${LAYERS.map(
        (layer) =>
          html`<button
            type="button"
            class="press press-field press-quiet"
            aria-pressed=${seen.layer === layer}
            @click=${() => change({ layer })}
          >
            ${nameOf(state, layer)}
          </button>`,
      )}
    </div>
    ${seen.layer === "found" ? foundChoice(state, bed, seen, change) : nothing}
  </div>`;
}

/**
 * @param {State} state @param {Bed} bed @param {Seen} seen
 * @param {(next: Partial<Seen>) => void} change
 */
function foundChoice(state, bed, seen, change) {
  const at = lookedAt(state, bed, seen);
  if (!at) return html`<p class="soft">${state.say("screen.layers.found_nothing")}</p>`;
  const { organisms, organism, days, place, day } = at;
  return html`<div class="row" role="group" aria-label=${state.say("field.organism")}>
      ${organisms.map(
        (one) =>
          html`<button
            type="button"
            class="press press-quiet"
            aria-pressed=${one === organism}
            @click=${() => change({ organism: one, day: undefined })}
          >
            ${state.say("screen.scouting.organism", { organism: one })}
          </button>`,
      )}
    </div>
    ${
      days.length > 1
        ? html`<label class="plan-days">
            <span>${state.say("screen.layers.day", { looked_day: day })}</span>
            <input
              type="range"
              min="0"
              max=${days.length - 1}
              step="1"
              .value=${String(place)}
              aria-valuetext=${state.say("screen.value.day", { at_day: day })}
              @input=${(/** @type {Event} */ event) =>
                change({
                  day: days[Number(/** @type {HTMLInputElement} */ (event.target).value)],
                })}
            />
          </label>`
        : html`<p>${state.say("screen.layers.day", { looked_day: day })}</p>`
    }`;
}

/**
 * The layer in words: each thing that it says, with the plants of which it does.
 * @param {State} state @param {Bed} bed @param {Planting[]} plantings @param {Seen} seen
 */
export function layerWords(state, bed, plantings, seen) {
  const layer = seenLayer(state, bed, seen);
  if (!layer) return nothing;
  const said = grouped(state, bed, plantings, layer);
  return html`<table class="plan-words-table">
      <caption>
        ${nameOf(state, seen.layer)}
      </caption>
      <thead>
        <tr>
          <th scope="col">${state.say("screen.layers.head_plants")}</th>
          <th scope="col">${state.say("screen.layers.head_told")}</th>
        </tr>
      </thead>
      <tbody>
        ${said.map(
          ({ planting, plants, words }) =>
            html`<tr>
              <th scope="row">${state.say("screen.who.plants", { planting, plants })}</th>
              <td>${words}</td>
            </tr>`,
        )}
      </tbody>
    </table>
    ${said.length ? nothing : html`<p class="soft">${state.say("screen.layers.none_told")}</p>`}
    ${layer.notes.map((note) => html`<p class="small">${note}</p>`)}`;
}

/** @param {State} state @param {Bed} bed @param {Planting[]} plantings @param {Layer} layer */
function grouped(state, bed, plantings, layer) {
  /** @type {Map<string, {planting: string, plants: number[], words: string, level: number}>} */
  const groups = new Map();
  for (const spot of groundOf(state, bed, plantings)?.spots ?? []) {
    const mark = layer.markOf(spot);
    if (!mark || (!spot.live && mark.figure !== "×")) continue;
    const key = `${spot.planting.id} ${mark.words}`;
    const group = groups.get(key);
    if (group) group.plants.push(spot.ordinal);
    else
      groups.set(key, {
        planting: spot.planting.id,
        plants: [spot.ordinal],
        words: mark.words,
        level: mark.level,
      });
  }
  return [...groups.values()].sort((a, b) => b.level - a.level);
}
