// @ts-check
// Choosing plants on the plan, and what to do with them.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { local } from "./local.js";
import { toRecord } from "./paths.js";
import { plan } from "./plan.js";
import { rowPresses } from "./plant_numbers.js";
import { pressLink } from "./press.js";
import { verbOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("./plan.js").Chosen} Chosen */

const FOR_PLANTS = /** @type {const} */ (["pick", "scout", "feed", "prune", "remove_plant"]);

/**
 * @param {State} state @param {Bed | undefined} bed undefined: in trays, so no plan
 * @param {Planting[]} plantings
 * @param {(subjects: Subjects) => unknown} [further] more that can be done with the chosen plants
 */
export const selecting = (state, bed, plantings, further = () => nothing) =>
  local(
    `select ${plantings.map((planting) => planting.id).join()}`,
    () =>
      /** @type {Chosen} */ ({
        planting: plantings.length === 1 ? plantings[0].id : undefined,
        plants: [],
      }),
    (chosen, change) => {
      const set = (/** @type {Chosen} */ next) =>
        change((now) => {
          Object.assign(now, next);
        });
      return html`<div class="stack">
        ${bed ? plan(state, bed, plantings, chosen, set) : nothing}
        ${plantings.map(
          (planting) =>
            html`<div
              class="stack"
              role="group"
              aria-label=${state.say("screen.who.planting", { planting: planting.id })}
            >
              ${
                plantings.length > 1
                  ? html`<p class="small">
                      ${state.say("screen.who.planting", { planting: planting.id })}
                    </p>`
                  : nothing
              }
              ${rowPresses(
                state,
                planting,
                chosen.planting === planting.id ? chosen.plants : [],
                (plants) => set({ planting: planting.id, plants }),
              )}
            </div>`,
        )}
        ${withChosen(
          state,
          bed,
          chosen,
          () => set({ planting: chosen.planting, plants: [] }),
          further,
        )}
      </div>`;
    },
  );

/**
 * @param {State} state
 * @param {Bed | undefined} bed
 * @param {Chosen} chosen
 * @param {() => void} clear
 * @param {(subjects: Subjects) => unknown} further
 */
function withChosen(state, bed, chosen, clear, further) {
  if (!chosen.planting || !chosen.plants.length)
    return html`<p class="soft small" aria-live="polite">${state.say("screen.plan.hint")}</p>
      ${
        chosen.planting
          ? further({ ...(bed ? { bed: bed.id } : {}), planting: chosen.planting })
          : nothing
      }`;
  const subjects = {
    ...(bed ? { bed: bed.id } : {}),
    planting: chosen.planting,
    plants: chosen.plants,
  };
  return html`<div class="chosen">
    <p class="chosen-words" aria-live="polite">${state.say("screen.who.plants", subjects)}</p>
    ${further(subjects)}
    <div class="presses">
      ${FOR_PLANTS.filter((kind) => state.look.kind(kind)).map((kind) =>
        pressLink(verbOf(state, kind), toRecord(kind, subjects), "press-field"),
      )}
      ${pressLink(
        state.say("action.write_other"),
        toRecord("", subjects),
        "press-field press-quiet",
      )}
      <button type="button" class="press press-field press-quiet" @click=${clear}>
        ${state.say("action.clear")}
      </button>
    </div>
  </div>`;
}
