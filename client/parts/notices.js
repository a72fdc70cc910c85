// @ts-check
// What was just written down, with a way back. The list is always there, so readers announce it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { once } from "./press.js";
import { gist, whoOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Notice} Notice */

/** @param {State} state @param {Actions} actions */
export const notices = (state, actions) =>
  html`<div class="notices" role="status" aria-live="polite">
    ${repeat(
      state.notices,
      (notice) => notice.id,
      (notice) => one(state, actions, notice),
    )}
  </div>`;

/** @param {State} state @param {Actions} actions @param {Notice} notice */
function one(state, actions, notice) {
  const undo = notice.undo;
  return html`<div class="notice notice-${notice.tone}">
    <p>${wordsOf(state, notice)}</p>
    ${
      undo
        ? html`<button
            type="button"
            @click=${once(async () => {
              await actions.undo(undo);
              actions.closeNotice(notice.id);
            })}
          >
            ${state.say("action.undo")}
          </button>`
        : nothing
    }
    <button
      type="button"
      class="plain"
      aria-label=${state.say("action.close")}
      @click=${() => actions.closeNotice(notice.id)}
    >
      <span aria-hidden="true">✕</span>
    </button>
  </div>`;
}

/**
 * What was written is told with where and how much, so that a slip is seen at once.
 * @param {State} state @param {Notice} notice
 */
function wordsOf(state, { message, undo }) {
  const said = state.say(message.key, message.values);
  const entry = undo ? state.look.entry(undo) : undefined;
  if (!entry) return said;
  const { bed, planting } = entry.subjects;
  const told = [
    ...(bed || planting ? [whoOf(state, entry.subjects)] : []),
    ...(state.look.kind(entry.kind)?.structural ? [] : [gist(state, entry.kind, entry.details)]),
  ].filter(Boolean);
  return told.length
    ? state.say("screen.frame.written", { done: said, told: told.join(", ") })
    : said;
}
