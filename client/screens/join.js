// @ts-check
// Joining a garden with the code that the shed shows.
import { guessDeviceName } from "../garden/device_name.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { local } from "../parts/local.js";
import { languageChoice } from "../parts/preferences.js";
import { press } from "../parts/press.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** A name as the shed takes it; a code with room for the lead's long one. */
const LONGEST = { code: 100, device: 80 };

/** @param {State} state @param {Actions} actions */
export const view = (state, actions) =>
  html` ${title(state.say("screen.join.title"), { line: state.say("screen.join.line") })}
  ${state.session ? nothing : languageChoice(state, actions)}
  ${
    state.sync.phase === "revoked"
      ? html`<p class="form-odd">
            ${state.say("screen.join.revoked")}
            ${state.say("screen.join.kept", { count: state.waiting })}
          </p>
          ${press(
            state.say("action.export_unsent"),
            () => actions.exportUnsent(),
            "press-field press-wide",
          )}`
      : nothing
  }
  ${
    state.waiting && state.session
      ? html`<p class="form-odd">${state.say("screen.join.waiting", { count: state.waiting })}</p>`
      : nothing
  }
  ${
    state.session
      ? html`<p class="form-odd">
          ${state.say("screen.join.already", { garden_id: state.session.garden.id })}
        </p>`
      : nothing
  }
  ${local(
    `join ${state.route.id} ${state.language}`,
    () => ({
      code: state.route.id,
      device: state.session?.device.name ?? guessDeviceName(state.say),
      wrong: "",
    }),
    (held, change) => {
      const set = (/** @type {"code" | "device"} */ name) => (/** @type {Event} */ event) =>
        change((now) => {
          now[name] = /** @type {HTMLInputElement} */ (event.target).value;
          now.wrong = "";
        });
      return html`<form
        class="form"
        @submit=${(/** @type {Event} */ event) => event.preventDefault()}
      >
        ${input(state, "code", held.code, held.wrong, set("code"))}
        ${input(state, "device", held.device, held.wrong, set("device"))}
        ${press(
          state.say("action.join"),
          () => {
            const wrong = !held.code.trim() ? "code" : !held.device.trim() ? "device" : "";
            if (wrong)
              return change((now) => {
                now.wrong = wrong;
              });
            return actions.join(held.code.trim(), held.device.trim());
          },
          "press-ink press-field press-wide",
        )}
      </form>`;
    },
  )}`;

/**
 * @param {State} state @param {"code" | "device"} name @param {string} value
 * @param {string} wrong @param {(event: Event) => void} onInput
 */
const input = (state, name, value, wrong, onInput) =>
  html`<div class="field ${wrong === name ? "is-wrong" : ""}">
    <label class="field-label" for="join-${name}">${state.say(`screen.join.${name}`)}</label>
    <input
      id="join-${name}"
      class="text-input ${name === "code" ? "code-input" : ""}"
      maxlength=${LONGEST[name]}
      autocomplete="off"
      autocapitalize=${name === "code" ? "characters" : "sentences"}
      spellcheck="false"
      .value=${value}
      aria-invalid=${wrong === name ? "true" : nothing}
      aria-describedby=${wrong === name ? `join-${name}-wrong` : nothing}
      @input=${onInput}
    />
    ${
      wrong === name
        ? html`<p class="field-wrong" id="join-${name}-wrong">
            ${state.say(`screen.join.${name}_missing`)}
          </p>`
        : nothing
    }
  </div>`;
