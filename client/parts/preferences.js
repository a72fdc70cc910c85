// @ts-check
// The person's own choice of language and units, for this phone alone.
import { html } from "../vendor/lit-html/lit-html.js";
import { SYSTEMS } from "../units.js";
import { box } from "./choosing.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** Each language by its own name: whoever looks for it can't read the others. */
/** @param {State} state @param {Actions} actions */
export const languageChoice = (state, actions) =>
  group(state.say("screen.preferences.language"), Object.entries(state.languages).map(
    ([code, name]) =>
      box("radio", `language-${code}`, "language", html`<span lang=${code}>${name}</span>`,
        state.language === code, () => void actions.prefer({ language: code })),
  ));

/** @param {State} state @param {Actions} actions */
export const unitsChoice = (state, actions) =>
  group(state.say("screen.preferences.units"), SYSTEMS.map((system) =>
    box("radio", `units-${system}`, "units", state.say(`screen.preferences.units_${system}`),
      state.preferences.units === system, () => void actions.prefer({ units: system })),
  ));

/** @param {string} legend @param {unknown[]} boxes */
const group = (legend, boxes) =>
  html`<fieldset class="field">
    <legend class="field-label">${legend}</legend>
    <div class="boxes">${boxes}</div>
  </fieldset>`;
