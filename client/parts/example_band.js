// @ts-check
// Above every screen of the example: that nothing here counts, and the ways out.
import { html } from "../vendor/lit-html/lit-html.js";
import { GARDEN_ADDRESS } from "../store/which.js";
import { press, pressLink } from "./press.js";

/**
 * @param {import("../types.js").State} state
 * @param {import("../types.js").Actions} actions
 */
export const exampleBand = (state, actions) =>
  html`<div class="example-band" role="note">
    <p>${state.say("screen.example.band")}</p>
    ${pressLink(state.say("screen.example.back"), GARDEN_ADDRESS)}
    ${press(state.say("screen.example.throw_away"), () => actions.throwExampleAway())}
  </div>`;
