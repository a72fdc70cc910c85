// @ts-check
// A report of the shed's: asked for by a tap, and shown with the time at which it was worked out.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { press } from "./press.js";
import { shortTime } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/**
 * @param {State} state @param {Actions} actions
 * @param {string} name the report's address below the garden
 * @param {string} verb what the button says
 * @param {(answer: any) => unknown} draw
 */
export function report(state, actions, name, verb, draw) {
  const { told, asking, error } = state.reports;
  const known = told[name];
  const isAsking = asking === name;
  return html`<div class="stack">
    <p>
      ${press(
        state.say(isAsking ? "screen.report.asking" : verb),
        () => actions.askShed(name),
        known ? "press-quiet" : "press-field",
      )}
    </p>
    ${
      error && !isAsking
        ? html`<p class="field-wrong" role="status">${state.say("screen.report.out_of_reach")}</p>`
        : nothing
    }
    ${
      known
        ? html`<p class="soft small">
              ${state.say("screen.report.as_of", { time: shortTime(state, known.atMs) })}
            </p>
            ${draw(known.answer)}`
        : html`<p class="soft">${state.say("screen.report.none")}</p>`
    }
  </div>`;
}
