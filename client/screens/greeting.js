// @ts-check
// A garden that is being begun: three steps in any order, each of which can be left out.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { EXAMPLE_ADDRESS, IS_EXAMPLE } from "../store/which.js";
import { stepsOf, toStep } from "../parts/first_hour.js";
import { languageChoice, otherChoices } from "../parts/preferences.js";
import { press, pressLink } from "../parts/press.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../parts/first_hour.js").Standing} Standing */

/** @param {State} state @param {Actions} actions */
export function greeting(state, actions) {
  const steps = stepsOf(state);
  const isEmpty = !state.beds.length && !state.plantings.length;
  const next = steps.find((one) => one.state === "open")?.step;
  return html`<div class="greeting">
    ${title(state.say(isEmpty ? "screen.greeting.title" : "screen.greeting.again"), {
      line: state.say(isEmpty ? "screen.greeting.line" : "screen.greeting.line_again"),
    })}
    <p class="chosen-words" role="status">${progress(state, steps)}</p>
    <ol class="stops">
      ${steps.map((standing, at) => oneStep(state, actions, standing, at + 1, next))}
    </ol>
    <section class="stack" aria-labelledby="greeting-shown">
      <h2 id="greeting-shown">${state.say("screen.preferences.title")}</h2>
      ${languageChoice(state, actions)} ${otherChoices(state, actions, ["units"])}
    </section>
    ${IS_EXAMPLE ? nothing : example(state)}
  </div>`;
}

/** "1 of 3 done." @param {State} state @param {Standing[]} steps */
export const progress = (state, steps) =>
  state.say("screen.greeting.progress", {
    done: steps.filter((one) => one.state === "done").length,
    all: steps.length,
  });

/**
 * @param {State} state @param {Actions} actions @param {Standing} standing @param {number} number
 * @param {string | undefined} next the step to take first, in ink
 */
function oneStep(state, actions, { step, state: standing }, number, next) {
  const { skipped } = state.preferences;
  const name = state.say(`screen.greeting.${step}`);
  return html`<li class="stop ${standing === "open" ? "" : "stop-quiet"}">
    <span class="stop-number" aria-hidden="true">${standing === "done" ? "✓" : number}</span>
    <div class="stack">
      <h2>${name}</h2>
      ${
        standing === "open"
          ? nothing
          : html`<p class="state-words">${state.say(`screen.greeting.${standing}`)}</p>`
      }
      <p>${state.say(`screen.greeting.${step}_line`)}</p>
      <div class="presses">
        ${pressLink(
          state.say(`screen.greeting.${step}_go`),
          toStep(step),
          step === next ? "press-ink press-field" : "press-field",
        )}
        ${
          standing === "open"
            ? press(
                state.say("screen.greeting.skip"),
                () => actions.prefer({ skipped: [...skipped, step] }),
                "press-field press-quiet",
                state.say("screen.greeting.skip_name", { told: name }),
              )
            : nothing
        }
      </div>
    </div>
  </li>`;
}

/** @param {State} state */
const example = (state) =>
  html`<section class="stack" aria-labelledby="greeting-example">
    <h2 id="greeting-example">${state.say("screen.greeting.example")}</h2>
    <p>${state.say("screen.greeting.example_line")}</p>
    ${pressLink(
      state.say("screen.greeting.example_go"),
      EXAMPLE_ADDRESS,
      "press-field press-wide",
    )}
  </section>`;
