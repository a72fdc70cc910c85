// @ts-check
// An empty garden: three steps to a first planting.
import { html } from "../vendor/lit-html/lit-html.js";
import { pressLink } from "../parts/press.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */

const STEPS = /** @type {const} */ ([
  ["place", "#/garden"],
  ["beds", "#/new/bed"],
  ["planting", "#/new/planting"],
]);

/** @param {State} state */
export const greeting = (state) =>
  html`<div class="greeting">
    ${title(state.say("screen.greeting.title"), { line: state.say("screen.greeting.line") })}
    <ol class="stops">
      ${STEPS.map(
        ([step, href], at) =>
          html`<li class="stop">
            <span class="stop-number" aria-hidden="true">${at + 1}</span>
            <div class="stack">
              <h2>${state.say(`screen.greeting.${step}`)}</h2>
              <p>${state.say(`screen.greeting.${step}_line`)}</p>
              ${pressLink(
                state.say(`screen.greeting.${step}_go`),
                href,
                at === 1 ? "press-ink press-field" : "press-field",
              )}
            </div>
          </li>`,
      )}
    </ol>
  </div>`;
