// @ts-check
// Choosing a pest or a trouble by its name, from what the rulebook knows; or under a name of one's
// own.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { textOf } from "./choosing.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("./field.js").Filled & {id: string}} Drawn */

/** @param {State} state @param {Drawn} filled @param {string | undefined} describedBy */
export function chooseOrganism(state, filled, describedBy) {
  const known = Object.keys(state.rulebook.organisms ?? {});
  return chooseNamed(state, filled, describedBy, { known, sort: "organism" });
}

/**
 * A place in a bed is marked with a trouble that stays in the soil.
 * @param {State} state @param {Drawn} filled @param {string | undefined} describedBy
 */
export function chooseTrouble(state, filled, describedBy) {
  const { hosts = {}, troubles = {} } = state.rulebook;
  const known = Object.keys(filled.kind === "spot" ? hosts : { ...hosts, ...troubles });
  return chooseNamed(state, filled, describedBy, { known, sort: "trouble" });
}

/**
 * @param {State} state @param {Drawn} filled @param {string | undefined} describedBy
 * @param {{known: string[], sort: "organism" | "trouble"}} names
 */
function chooseNamed(state, { value, id, change }, describedBy, { known, sort }) {
  const chosen = typeof value === "string" ? value : "";
  const isKnown = known.includes(chosen);
  const own = state.say(`screen.form.own_${sort}`);
  return html`<select
      id=${id}
      class="text-input"
      aria-describedby=${describedBy ?? nothing}
      @change=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
    >
      <option value="" ?selected=${!isKnown}>${state.say("screen.form.choose")}</option>
      ${known
        .map((one) => ({ one, words: state.sayIf(`${sort}.${one}`) ?? one }))
        .sort((a, b) => a.words.localeCompare(b.words, state.language))
        .map(
          ({ one, words }) =>
            html`<option value=${one} ?selected=${one === chosen}>${words}</option>`,
        )}
    </select>
    <input
      class="text-input"
      type="text"
      aria-label=${own}
      placeholder=${own}
      .value=${isKnown ? "" : chosen}
      @input=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
    />`;
}
