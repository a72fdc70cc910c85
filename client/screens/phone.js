// @ts-check
// This phone: what waits, when the shed was last heard, what the browser promised, other devices.
import { clockMessage } from "../garden/wrong_clock.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { devices } from "../parts/devices.js";
import { languageChoice, otherChoices } from "../parts/preferences.js";
import { press, pressLink } from "../parts/press.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const session = state.session;
  return html`${title(state.say("screen.phone.title"), {
      line: session
        ? state.say("screen.phone.line", { device: session.device.id, person: session.person.id })
        : undefined,
    })}
    ${warnings(state, actions)} ${withShed(state, actions)} ${offline(state, actions)}
    <section class="stack" aria-labelledby="phone-shown">
      <h2 id="phone-shown">${state.say("screen.preferences.title")}</h2>
      ${languageChoice(state, actions)} ${otherChoices(state, actions)}
    </section>
    <section class="stack" aria-labelledby="phone-devices">
      <h2 id="phone-devices">${state.say("screen.phone.devices")}</h2>
      ${devices(state)}
    </section>
    <section class="stack" aria-labelledby="phone-garden">
      <h2 id="phone-garden">${state.say("screen.phone.garden")}</h2>
      ${pressLink(state.say("screen.garden.name"), "#/garden", "press-field press-wide")}
      ${pressLink(state.say("action.join_other"), "#/join", "press-field press-wide")}
    </section>`;
}

/** @param {State} state @param {Actions} actions */
const withShed = (state, actions) =>
  html`<section class="stack" aria-labelledby="phone-shed">
    <h2 id="phone-shed">${state.say("screen.phone.shed")}</h2>
    <dl class="facts">
      <dt>${state.say("screen.phone.waiting")}</dt>
      <dd>${state.say("screen.phone.waiting_count", { count: state.waiting })}</dd>
      ${
        state.waitingPhotos.size
          ? html`<dt>${state.say("screen.phone.photos")}</dt>
              <dd>${state.say("screen.phone.photos_count", { count: state.waitingPhotos.size })}</dd>`
          : nothing
      }
      <dt>${state.say("screen.phone.last")}</dt>
      <dd>${moment(state, state.lastSyncMs)}</dd>
      <dt>${state.say("screen.phone.known")}</dt>
      <dd>${moment(state, state.knownAtMs)}</dd>
      <dt>${state.say("screen.phone.now")}</dt>
      <dd aria-live="polite">${state.say(`screen.phone.phase_${state.sync.phase}`)}</dd>
      ${
        state.missing.length
          ? html`<dt>${state.say("screen.phone.missing")}</dt>
              <dd>${state.say("screen.phone.missing_count", { count: state.missing.length })}</dd>`
          : nothing
      }
      <dt>${state.say("screen.phone.kept")}</dt>
      <dd>${state.say(keptWord(state.persisted))}</dd>
    </dl>
    <div class="presses">
      ${press(state.say("action.sync_now"), () => actions.syncNow(), "press-ink press-field")}
      ${
        state.persisted === true
          ? nothing
          : press(state.say("action.ask_to_keep"), () => actions.askToKeep(), "press-field")
      }
    </div>
  </section>`;

/** @param {boolean | null} persisted */
function keptWord(persisted) {
  if (persisted === null) return "screen.phone.kept_unasked";
  return persisted ? "screen.phone.kept_yes" : "screen.phone.kept_no";
}

/** @param {State} state @param {Actions} actions */
const offline = (state, actions) =>
  html`<section class="stack" aria-labelledby="phone-files">
    <h2 id="phone-files">${state.say("screen.phone.files")}</h2>
    <p class="soft">${state.say("screen.phone.files_line")}</p>
    ${press(
      state.say("action.export_unsent"),
      () => actions.exportUnsent(),
      "press-field press-wide",
    )}
    <div class="field">
      <label class="field-label" for="phone-import">${state.say("screen.phone.import")}</label>
      <input
        id="phone-import"
        class="text-input"
        type="file"
        accept=".jsonl,.json,application/json"
        @change=${(/** @type {Event} */ event) => takeFile(actions, event)}
      />
    </div>
  </section>`;

/** @param {State} state @param {number | null} ms */
const moment = (state, ms) =>
  ms === null
    ? state.say("screen.phone.never")
    : state.say("screen.value.moment", { at_instant: ms / 1000 });

/** @param {Actions} actions @param {Event} event */
async function takeFile(actions, event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  if (file) await actions.importEntries(file);
  input.value = "";
}

/** @param {State} state @param {import("../types.js").Message} message */
const said = (state, { key, values }) => state.say(key, values);

/** @param {State} state @param {Actions} actions */
function warnings(state, actions) {
  const { clockOff, sync } = state;
  const attention =
    state.attention.length + state.faulty.length + state.refusedPhotos.length;
  const told = [
    state.isBroken ? html`<p class="form-odd">${state.say("screen.phone.broken")}</p>` : nothing,
    state.unsaved
      ? html`<p class="form-odd">${state.say("screen.phone.unsaved", { count: state.unsaved })}</p>`
      : nothing,
    clockOff === null
      ? nothing
      : html`<p class="form-odd">${said(state, clockMessage(clockOff))}</p>`,
    sync.error
      ? html`<p class="form-odd">
          ${
            state.sayIf(`error.${sync.error}`) ??
            state.say("screen.phone.error", { code: sync.error })
          }
        </p>`
      : nothing,
    attention
      ? pressLink(
          state.say("screen.frame.attention", { count: attention }),
          "#/attention",
          "press-ink press-field press-wide",
        )
      : nothing,
    state.update
      ? html`<div class="chosen">
          <p>${state.say("screen.phone.update")}</p>
          ${press(state.say("action.update"), () => actions.applyUpdate(), "press-field")}
        </div>`
      : nothing,
  ];
  return told.some((one) => one !== nothing)
    ? html`<div class="stack" role="status">${told}</div>`
    : nothing;
}
