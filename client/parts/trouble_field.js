// @ts-check
// Choosing a trouble by its name: those that stay in the soil for a place in a bed, else all that
// the rulebook knows; or under a name of one's own.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { textOf } from "./choosing.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("./field.js").Filled} Filled */

/**
 * @param {State} state @param {Filled & {id: string}} filled
 * @param {string | undefined} describedBy
 */
export function chooseTrouble(state, { kind, value, id, change }, describedBy) {
  const { hosts = {}, troubles = {} } = state.rulebook;
  const known = Object.keys(kind === "spot" ? hosts : { ...hosts, ...troubles });
  const chosen = typeof value === "string" ? value : "";
  const isKnown = known.includes(chosen);
  return html`<select
      id=${id}
      class="text-input"
      aria-describedby=${describedBy ?? nothing}
      @change=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
    >
      <option value="" ?selected=${!isKnown}>${state.say("screen.form.choose")}</option>
      ${known
        .map((one) => ({ one, words: state.sayIf(`trouble.${one}`) ?? one }))
        .sort((a, b) => (a.words < b.words ? -1 : 1))
        .map(
          ({ one, words }) =>
            html`<option value=${one} ?selected=${one === chosen}>${words}</option>`,
        )}
    </select>
    <input
      class="text-input"
      type="text"
      aria-label=${state.say("screen.form.own_trouble")}
      placeholder=${state.say("screen.form.own_trouble")}
      .value=${isKnown ? "" : chosen}
      @input=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
    />`;
}
