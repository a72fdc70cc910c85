// @ts-check
// The person's own choices for this phone alone: language, units, look, thumb.
import { html } from "../vendor/lit-html/lit-html.js";
import { SYSTEMS } from "../units.js";
import { box } from "./choosing.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/**
 * Each language by its own name: whoever looks for it can't read the others.
 * @param {State} state @param {Actions} actions */
export const languageChoice = (state, actions) =>
  group(state.say("screen.preferences.language"), Object.entries(state.languages).map(
    ([code, name]) =>
      box("radio", `language-${code}`, "language", html`<span lang=${code}>${name}</span>`,
        state.language === code, () => void actions.prefer({ language: code })),
  ));

const CHOICES = /** @type {const} */ ({
  units: SYSTEMS,
  look: ["device", "sun"],
  hand: ["right", "left"],
  buzz: ["on", "off"],
});

const ALL = /** @type {(keyof typeof CHOICES)[]} */ (Object.keys(CHOICES));

/**
 * Everything else that this phone's person may choose, or some of it.
 * @param {State} state @param {Actions} actions @param {(keyof typeof CHOICES)[]} [names]
 */
export const otherChoices = (state, actions, names = ALL) =>
  names.map((name) =>
    group(state.say(`screen.preferences.${name}`), CHOICES[name].map((choice) =>
      box("radio", `${name}-${choice}`, name, state.say(`screen.preferences.${name}_${choice}`),
        state.preferences[name] === choice, () => void actions.prefer({ [name]: choice })),
    )));

/** @param {string} legend @param {unknown[]} boxes */
const group = (legend, boxes) =>
  html`<fieldset class="field">
    <legend class="field-label">${legend}</legend>
    <div class="boxes">${boxes}</div>
  </fieldset>`;
