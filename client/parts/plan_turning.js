// @ts-check
// Which edge of the bed is nearest to who stands before it: said once, kept with the bed.
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { press } from "./press.js";
import { choiceOf, labelOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Bed} Bed */

/** @param {State} state @param {Actions} actions @param {Bed} bed */
export function turning(state, actions, bed) {
  const field = state.look.kind("bed")?.fields.find(({ name }) => name === "near_edge");
  if (!field || state.session?.role === "reader") return nothing;
  const subjects = { bed: bed.id };
  const keep = (/** @type {string} */ edge) =>
    writtenOrHeld(actions.record({ kind: "bed", subjects, details: { near_edge: edge } }));
  return html`<details class="help plan-turning">
    <summary>${labelOf(state, "bed", "near_edge")}</summary>
    <p class="small">${state.say("screen.plan.turning")}</p>
    <div class="presses">
      ${(field.choices ?? []).map((edge) =>
        press(choiceOf(state, "bed", "near_edge", edge), () => keep(edge), "press-wide"),
      )}
    </div>
  </details>`;
}
