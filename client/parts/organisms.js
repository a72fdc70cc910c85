// @ts-check
// Choosing what was looked for: from the list that the rulebook knows, or under a name of one's own.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { textOf } from "./choosing.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("./field.js").Filled} Filled */

/**
 * @param {State} state @param {Filled & {id: string}} filled @param {string | undefined} describedBy
 */
export function chooseOrganism(state, { value, id, change }, describedBy) {
  const known = state.rulebook.organisms ?? {};
  const chosen = typeof value === "string" ? value : "";
  const isKnown = Object.hasOwn(known, chosen);
  return html`<select
      id=${id}
      class="text-input"
      aria-describedby=${describedBy ?? nothing}
      @change=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
    >
      <option value="" ?selected=${!isKnown}>${state.say("screen.form.choose")}</option>
      ${Object.keys(known)
        .map((one) => ({ one, words: state.say("screen.scouting.organism", { organism: one }) }))
        .sort((a, b) => (a.words < b.words ? -1 : 1))
        .map(
          ({ one, words }) =>
            html`<option value=${one} ?selected=${one === chosen}>${words}</option>`,
        )}
    </select>
    <input
      class="text-input"
      type="text"
      aria-label=${state.say("screen.form.own_organism")}
      placeholder=${state.say("screen.form.own_organism")}
      .value=${isKnown ? "" : chosen}
      @input=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
    />`;
}
