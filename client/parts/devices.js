// @ts-check
// The devices of the garden: whose each is, when it was heard and what it still holds back.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { local } from "./local.js";
import { press } from "./press.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Device} Device */
/** @typedef {(device: Device) => Promise<void>} Revoke */

/** @param {State} state @param {Revoke} [revoke] */
export function devices(state, revoke) {
  if (!state.devices.length) return html`<p class="soft">${state.say("screen.devices.none")}</p>`;
  return html`<ul class="go-list">
    ${state.devices.map((device) => {
      const isThis = device.id === state.session?.device.id;
      return html`<li>
        <div class="go">
          <p>
            <b>${state.say("screen.devices.name", { device: device.id })}</b>
            ${isThis ? html`<span class="soft">${state.say("screen.devices.this")}</span>` : nothing}
          </p>
          <p class="small">${whose(state, device)}</p>
          <p class="small">${heard(state, device)}</p>
          ${revoke && !isThis ? shuttingOut(state, device, revoke) : nothing}
        </div>
      </li>`;
    })}
  </ul>`;
}

/** What was stored before the shed told roles has none. @param {State} state @param {Device} device */
const whose = (state, { person, role }) =>
  state.sayIf(`screen.devices.role_${role}`, { name: person }) ?? person;

/** @param {State} state @param {Device} device */
const heard = (state, { heard_at_ms, waiting, missing }) => html`
  ${
    heard_at_ms === null
      ? state.say("screen.devices.never")
      : state.say("screen.devices.heard", { at_instant: heard_at_ms / 1000 })
  }
  ${waiting ? state.say("screen.devices.waiting", { count: waiting }) : nothing}
  ${missing ? state.say("screen.devices.missing", { count: missing }) : nothing}
`;

/**
 * One tap asks, another does it: a device that is shut out needs a new code to come back.
 * @param {State} state @param {Device} device @param {Revoke} revoke
 */
const shuttingOut = (state, device, revoke) =>
  local(
    `shut out ${device.id}`,
    () => ({ isAsked: false }),
    (held, change) => {
      const ask = (/** @type {boolean} */ isAsked) =>
        change((now) => {
          now.isAsked = isAsked;
        });
      return html`<div class="stack">
        <div class="row">
          ${press(
            state.say("action.revoke"),
            () => ask(true),
            "press-quiet",
            state.say("screen.devices.revoke_name", { device: device.id, name: device.person }),
          )}
        </div>
        <div aria-live="polite">${held.isAsked ? asked(state, device, revoke, ask) : nothing}</div>
      </div>`;
    },
  );

/**
 * @param {State} state @param {Device} device @param {Revoke} revoke
 * @param {(isAsked: boolean) => void} ask
 */
const asked = (state, device, revoke, ask) =>
  html`<div class="chosen">
    <p>${state.say("screen.devices.revoke_line", { device: device.id, name: device.person })}</p>
    <div class="presses presses-two">
      ${press(state.say("action.revoke_yes"), () => revoke(device), "press-field")}
      ${press(state.say("action.revoke_no"), () => ask(false), "press-field")}
    </div>
  </div>`;
