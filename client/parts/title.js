// @ts-check
// The head of a screen: where one came from, what this is, and a line about it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/**
 * @param {unknown} words
 * @param {{from?: {words: string, href: string}, line?: unknown}} [more]
 */
export const title = (words, { from, line } = {}) =>
  html`<div class="title">
    ${
      from
        ? html`<p class="from">
            <a href=${from.href}><span aria-hidden="true">←&nbsp;</span>${from.words}</a>
          </p>`
        : nothing
    }
    <h1>${words}</h1>
    ${line ? html`<p class="soft">${line}</p>` : nothing}
  </div>`;

/**
 * For an address of something that is not on this phone.
 * @param {import("../types.js").State} state
 */
export const lost = (state) =>
  html`${title(state.say("screen.page.lost"))}
    <p>${state.say("screen.page.lost_line")}</p>
    <p><a class="press" href="#/">${state.say("screen.page.to_round")}</a></p>`;
