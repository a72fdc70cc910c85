// @ts-check
// The head of a page that is meant for paper: what it is, what it knows, and the button that prints.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { press } from "./press.js";
import { title } from "./title.js";

/** @typedef {import("../types.js").State} State */

export const TO_PAPER = "#/paper";

/**
 * @param {State} state @param {unknown} words
 * @param {{line?: unknown, note?: unknown}} [more] a note is printed too
 */
export const paperHead = (state, words, { line, note } = {}) =>
  html`${title(words, {
      from: { words: state.say("screen.paper.title"), href: TO_PAPER },
      line,
    })}
    <div class="paper-notes">
      <p class="small">${asKnown(state)}</p>
      ${note ? html`<p class="small">${note}</p>` : nothing}
    </div>
    ${printPress(state)}`;

/** @param {State} state */
export const printPress = (state) =>
  html`<div class="row screen-only">
    ${press(state.say("action.print"), () => window.print(), "press-ink press-field")}
    <p class="small soft">${state.say("screen.paper.as_pdf")}</p>
  </div>`;

/** Paper grows old: it says of when it is. @param {State} state */
const asKnown = (state) =>
  state.knownAtMs === null
    ? state.say("screen.withheld.never_known")
    : state.say("screen.paper.known", {
        printed_instant: state.now,
        known_instant: state.knownAtMs / 1000,
      });
