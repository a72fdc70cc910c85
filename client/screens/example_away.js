// @ts-check
// The example was asked for, and the shed that makes it does not answer.
import { html } from "../vendor/lit-html/lit-html.js";
import { press, pressLink } from "../parts/press.js";
import { title } from "../parts/title.js";
import { GARDEN_ADDRESS } from "../store/which.js";

/** @param {import("../types.js").State} state */
export const view = (state) =>
  html`${title(state.say("screen.greeting.example"), { line: state.say("screen.example.away") })}
    <div class="presses">
      ${press(state.say("screen.example.try_again"), () => location.reload(), "press-ink press-field")}
      ${pressLink(state.say("screen.example.back"), GARDEN_ADDRESS, "press-field")}
    </div>`;
