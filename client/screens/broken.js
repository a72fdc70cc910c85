// @ts-check
// When a screen can't be drawn: what went wrong, and the ways that still go.
import { html } from "../vendor/lit-html/lit-html.js";
import { press, pressLink } from "../parts/press.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @param {State} state @param {Actions} actions @param {unknown} error */
export const view = (state, actions, error) =>
  html`<div class="page">
    <main id="sheet" class="sheet stack">
      ${title(state.say("screen.broken.title"), { line: state.say("screen.broken.line") })}
      <p class="form-odd">${error instanceof Error ? error.message : String(error)}</p>
      <p>${state.say("screen.phone.waiting_count", { count: state.waiting })}</p>
      ${press(
        state.say("action.export_unsent"),
        () => actions.exportUnsent(),
        "press-ink press-field press-wide",
      )}
      ${press(state.say("action.sync_now"), () => actions.syncNow(), "press-field press-wide")}
      ${pressLink(state.say("screen.attention.title"), "#/attention", "press-field press-wide")}
      ${pressLink(state.say("screen.phone.name"), "#/phone", "press-field press-wide")}
      ${pressLink(state.say("screen.page.to_round"), "#/", "press-field press-wide")}
    </main>
  </div>`;
