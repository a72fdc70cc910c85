// @ts-check
// The plan with its layers, choosing plants on it, and what to do with them.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { keyed } from "../vendor/lit-html/directives/keyed.js";
import { local } from "./local.js";
import { toPlant, toRecord } from "./paths.js";
import { plan } from "./plan.js";
import { turning } from "./plan_turning.js";
import { layerChoice, layerWords, seenLayer } from "./plan_view.js";
import { rowPresses } from "./plant_numbers.js";
import { pressLink } from "./press.js";
import { verbOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("./plan.js").Chosen} Chosen */
/** @typedef {Chosen & import("./plan_view.js").Seen & {isSweeping: boolean}} Held */
/** @typedef {(next: Partial<Held>) => void} Set */

const FOR_PLANTS = /** @type {const} */ (["pick", "scout", "feed", "prune", "remove_plant"]);

/**
 * @param {State} state @param {Actions} actions
 * @param {Bed | undefined} bed undefined: in trays, so no plan
 * @param {Planting[]} plantings
 * @param {(subjects: Subjects) => unknown} [further] more that can be done with the chosen plants
 */
export const selecting = (state, actions, bed, plantings, further = () => nothing) =>
  local(
    `select ${plantings.map((planting) => planting.id).join()}`,
    () =>
      /** @type {Held} */ ({
        planting: plantings.length === 1 ? plantings[0].id : undefined,
        plants: [],
        layer: "plants",
        isSweeping: false,
      }),
    (held, change) => {
      const set = (/** @type {Partial<Held>} */ next) =>
        change((now) => {
          Object.assign(now, next);
        });
      return html`<div class="stack">
        ${bed ? seenPlan(state, actions, bed, plantings, held, set) : nothing}
        ${plantings.map((planting) => rows(state, planting, plantings.length > 1, held, set))}
        ${withChosen(state, bed, held, set, further)}
      </div>`;
    },
  );

/**
 * @param {State} state @param {Actions} actions @param {Bed} bed @param {Planting[]} plantings
 * @param {Held} held @param {Set} set
 */
function seenPlan(state, actions, bed, plantings, held, set) {
  const { isSweeping } = held;
  return html`${layerChoice(state, bed, held, set)}
    ${keyed(
      bed.id,
      plan(state, bed, plantings, {
        chosen: held,
        change: set,
        isSweeping,
        markOf: seenLayer(state, bed, held)?.markOf,
      }),
    )}
    ${layerWords(state, bed, plantings, held)}
    <div class="row">
      <button
        type="button"
        class="press press-quiet"
        aria-pressed=${isSweeping}
        @click=${() => set({ isSweeping: !isSweeping })}
      >
        ${state.say("screen.plan.sweep")}
      </button>
      ${turning(state, actions, bed)}
    </div>`;
}

/**
 * @param {State} state @param {Planting} planting @param {boolean} isNamed @param {Held} held
 * @param {Set} set
 */
function rows(state, planting, isNamed, held, set) {
  const name = state.say("screen.who.planting", { planting: planting.id });
  return html`<div class="stack" role="group" aria-label=${name}>
    ${isNamed ? html`<p class="small">${name}</p>` : nothing}
    ${rowPresses(state, planting, held.planting === planting.id ? held.plants : [], (plants) =>
      set({ planting: planting.id, plants }),
    )}
  </div>`;
}

/**
 * @param {State} state
 * @param {Bed | undefined} bed
 * @param {Held} held
 * @param {Set} set
 * @param {(subjects: Subjects) => unknown} further
 */
function withChosen(state, bed, { planting, plants }, set, further) {
  const place = bed ? { bed: bed.id } : {};
  if (!planting || !plants.length)
    return html`<p class="soft small" aria-live="polite">${state.say("screen.plan.hint")}</p>
      ${planting ? further({ ...place, planting }) : nothing}`;
  const subjects = { ...place, planting, plants };
  return html`<div class="chosen">
    <p class="chosen-words" aria-live="polite">${state.say("screen.who.plants", subjects)}</p>
    ${further(subjects)}
    <div class="presses">
      ${
        plants.length === 1
          ? pressLink(state.say("screen.plan.its_story"), toPlant(planting, plants[0]), "press-field")
          : nothing
      }
      ${FOR_PLANTS.filter((kind) => state.look.kind(kind)).map((kind) =>
        pressLink(verbOf(state, kind), toRecord(kind, subjects), "press-field"),
      )}
      ${pressLink(
        state.say("action.write_other"),
        toRecord("", subjects),
        "press-field press-quiet",
      )}
      ${others(state, planting, plants, set)}
      <button
        type="button"
        class="press press-field press-quiet"
        @click=${() => set({ plants: [] })}
      >
        ${state.say("action.clear")}
      </button>
    </div>
  </div>`;
}

/**
 * "All but these".
 * @param {State} state @param {string} planting @param {number[]} plants @param {Set} set
 */
function others(state, planting, plants, set) {
  const of = state.look.planting(planting);
  const rest = of ? state.look.livePlants(of).filter((one) => !plants.includes(one)) : [];
  if (!rest.length) return nothing;
  return html`<button
    type="button"
    class="press press-field press-quiet"
    @click=${() => set({ plants: rest })}
  >
    ${state.say("screen.plan.all_but")}
  </button>`;
}
