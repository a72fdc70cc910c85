// @ts-check
// What was just written down, with a way back. The list is always there, so readers announce it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { writtenOrHeld } from "../garden/not_saved.js";
import { isLeadsToChange } from "../garden/permission.js";
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
  // A phone that was shut out meanwhile writes nothing, nor takes anything back.
  const isUndoable = notice.mayUndo && notice.entry && state.session;
  return html`<div class="notice notice-${notice.tone}">
    <p>${wordsOf(state, notice)}</p>
    ${
      isUndoable
        ? html`<button
            type="button"
            aria-keyshortcuts="Control+Z"
            @click=${once(() => undo(actions, notice))}
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

/** @param {Actions} actions @param {Notice} notice */
async function undo(actions, notice) {
  if (!notice.mayUndo || !notice.entry) return;
  await writtenOrHeld(actions.undo(notice.entry));
  actions.closeNotice(notice.id);
}

/**
 * Ctrl+Z takes back what was just written, since the button lies many tabs away; in a field it
 * stays the field's own.
 * @param {() => State} stateNow @param {Actions} actions
 */
export const undoByKey = (stateNow, actions) => (/** @type {KeyboardEvent} */ event) => {
  const isAsked = event.key.toLowerCase() === "z" && (event.ctrlKey || event.metaKey);
  if (!isAsked || event.repeat || event.shiftKey || isTyping(event.target)) return;
  const last = stateNow().notices.filter((notice) => notice.mayUndo && notice.entry).at(-1);
  if (last) void undo(actions, last);
};

/** @param {EventTarget | null} target */
const isTyping = (target) =>
  target instanceof HTMLElement && target.matches("input, textarea, select");

/**
 * What was written is told with where and how much, so that a slip is seen at once.
 * @param {State} state @param {Notice} notice
 */
function wordsOf(state, { message, entry: id }) {
  const said = state.say(message.key, message.values);
  const entry = id ? state.look.entry(id) : undefined;
  if (!entry) return said;
  const { bed, planting } = entry.subjects;
  const told = [
    ...(bed || planting ? [whoOf(state, entry.subjects)] : []),
    ...(state.look.kind(entry.kind)?.structural ? [] : [gist(state, entry.kind, entry.details)]),
  ].filter(Boolean);
  const written = told.length
    ? state.say("screen.frame.written", { done: said, told: told.join(", ") })
    : said;
  return isLeadsToChange(state.session, entry, state.look)
    ? `${written} ${state.say("notice.ask_lead")}`
    : written;
}
