// @ts-check
// The devices of the garden: when each was heard and what it still holds back.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { press } from "./press.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Device} Device */

/** @param {State} state @param {(device: Device) => Promise<void>} [revoke] */
export function devices(state, revoke) {
  if (!state.devices.length) return html`<p class="soft">${state.say("screen.devices.none")}</p>`;
  return html`<ul class="go-list">
    ${state.devices.map(
      (device) =>
        html`<li>
          <div class="go">
            <p>
              <b>${state.say("screen.devices.name", { device: device.id })}</b>
              ${
                device.id === state.session?.device.id
                  ? html`<span class="soft">${state.say("screen.devices.this")}</span>`
                  : nothing
              }
            </p>
            <p class="small">
              ${
                device.heard_at_ms === null
                  ? state.say("screen.devices.never")
                  : state.say("screen.devices.heard", { at_instant: device.heard_at_ms / 1000 })
              }
              ${
                device.waiting
                  ? state.say("screen.devices.waiting", { count: device.waiting })
                  : nothing
              }
              ${
                device.missing
                  ? state.say("screen.devices.missing", { count: device.missing })
                  : nothing
              }
            </p>
            ${
              revoke && device.id !== state.session?.device.id
                ? press(
                    state.say("action.revoke"),
                    () => revoke(device),
                    "press-quiet",
                    state.say("screen.devices.revoke_name", { device: device.id }),
                  )
                : nothing
            }
          </div>
        </li>`,
    )}
  </ul>`;
}
