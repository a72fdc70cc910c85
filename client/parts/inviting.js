// @ts-check
// Pairing another phone: a name, a role, and then the code with its picture to scan.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { box } from "./choosing.js";
import { local } from "./local.js";
import { press } from "./press.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Invitation} Invitation */

/** @typedef {{name: string, role: string, isEmpty: boolean}} Held */

const ROLES = /** @type {const} */ (["helper", "lead", "reader"]);

/** @param {State} state @param {Actions} actions */
export const inviting = (state, actions) =>
  html`<section class="stack" aria-labelledby="invite">
    <h3 id="invite">${state.say("screen.invite.title")}</h3>
    ${local(
      "invite",
      () => /** @type {Held} */ ({ name: "", role: "helper", isEmpty: false }),
      (held, change) =>
        html`${nameField(state, held, change)} ${roleField(state, held, change)}
        ${press(
          state.say("action.invite"),
          () => {
            if (!held.name.trim())
              return change((now) => {
                now.isEmpty = true;
              });
            return actions.invite(held.name.trim(), held.role);
          },
          "press-ink press-field press-wide",
        )}`,
    )}
    <div aria-live="polite">
      ${state.invitation ? invitation(state, state.invitation) : nothing}
    </div>
  </section>`;

/**
 * @param {State} state @param {Held} held @param {(alter: (held: Held) => void) => void} change
 */
const nameField = (state, held, change) =>
  html`<div class="field ${held.isEmpty ? "is-wrong" : ""}">
    <label class="field-label" for="invite-name">${state.say("screen.invite.name")}</label>
    <input
      id="invite-name"
      class="text-input"
      autocomplete="off"
      .value=${held.name}
      aria-invalid=${held.isEmpty ? "true" : nothing}
      aria-describedby=${held.isEmpty ? "invite-wrong" : nothing}
      @input=${(/** @type {Event} */ event) =>
        change((now) => {
          now.name = /** @type {HTMLInputElement} */ (event.target).value;
          now.isEmpty = false;
        })}
    />
    ${
      held.isEmpty
        ? html`<p class="field-wrong" id="invite-wrong">
            ${state.say("screen.invite.name_missing")}
          </p>`
        : nothing
    }
  </div>`;

/**
 * @param {State} state @param {Held} held @param {(alter: (held: Held) => void) => void} change
 */
const roleField = (state, held, change) =>
  html`<fieldset class="field">
    <legend class="field-label">${state.say("screen.invite.role")}</legend>
    <div class="boxes">
      ${ROLES.map((role) =>
        box(
          "radio",
          `role-${role}`,
          "role",
          state.say(`screen.invite.role_${role}`),
          held.role === role,
          () =>
            change((now) => {
              now.role = role;
            }),
        ),
      )}
    </div>
  </fieldset>`;

/** As it is read out; spaces don't matter when it is typed. @param {string} code */
const inHalves = (code) => `${code.slice(0, code.length / 2)} ${code.slice(code.length / 2)}`;

/**
 * The picture is an image, so nothing inside it can run.
 * @param {State} state
 * @param {Invitation} made
 */
const invitation = (state, made) =>
  html`<div class="invitation">
    <img
      class="invitation-code"
      width="240"
      height="240"
      alt=${state.say("screen.invite.qr")}
      src="data:image/svg+xml,${encodeURIComponent(made.qr_svg)}"
    />
    <p>${state.say("screen.invite.code")}</p>
    <p class="invitation-text">${inHalves(made.code)}</p>
    <p class="small">
      ${state.say("screen.invite.until", { until_instant: made.expires_at_ms / 1000 })}
    </p>
    <p class="small invitation-link">${made.link}</p>
  </div>`;
