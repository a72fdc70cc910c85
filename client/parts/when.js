// @ts-check
// When it happened: now, unless the person says otherwise.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { momentAt, wallClock, wallOf } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */

const HOUR_MS = 3_600_000;
const EARLIER = /** @type {const} */ ([
  ["hour_ago", HOUR_MS],
  ["day_ago", 24 * HOUR_MS],
]);

/**
 * @param {State} state
 * @param {string | undefined} happenedAt undefined: now
 * @param {{key: string, values: Record<string, unknown>}[]} wrong
 * @param {(happenedAt: string | undefined) => void} change
 */
export function when(state, happenedAt, wrong, change) {
  const nowMs = state.now * 1000;
  const at = (/** @type {number} */ ms) => momentAt(state.zone, wallClock(state.zone, ms));
  return html`<fieldset class="field ${wrong.length ? "is-wrong" : ""}">
    <legend class="field-label">${state.say("screen.form.when")}</legend>
    <div class="row">
      <button
        type="button"
        class="press press-quiet"
        aria-pressed=${happenedAt === undefined}
        @click=${() => change(undefined)}
      >
        ${state.say("screen.form.now")}
      </button>
      ${EARLIER.map(
        ([word, ms]) =>
          html`<button
            type="button"
            class="press press-quiet"
            @click=${() => change(at(nowMs - ms))}
          >
            ${state.say(`screen.form.${word}`)}
          </button>`,
      )}
      <button
        type="button"
        class="press press-quiet"
        aria-pressed=${happenedAt !== undefined}
        @click=${() => change(happenedAt ?? at(nowMs))}
      >
        ${state.say("screen.form.other_time")}
      </button>
    </div>
    ${happenedAt === undefined ? nothing : otherTime(state, happenedAt, change)}
    ${wrong.map(
      (message) => html`<p class="field-wrong">${state.say(message.key, message.values)}</p>`,
    )}
  </fieldset>`;
}

/**
 * @param {State} state
 * @param {string} happenedAt
 * @param {(happenedAt: string) => void} change
 */
const otherTime = (state, happenedAt, change) =>
  html`<input
    type="datetime-local"
    class="text-input"
    id="field-happened-at"
    aria-label=${state.say("screen.form.when")}
    .value=${wallOf(state.zone, happenedAt)}
    @change=${(/** @type {Event} */ event) =>
      change(
        momentAt(state.zone, /** @type {HTMLInputElement} */ (event.target).value) ?? happenedAt,
      )}
  />`;
