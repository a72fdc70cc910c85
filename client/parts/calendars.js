// @ts-check
// The calendar addresses of this garden: made, shown once, and shut again.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { press } from "./press.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @param {State} state @param {Actions} actions */
export const calendars = (state, actions) =>
  html`<section class="stack" aria-labelledby="garden-calendar">
    <h2 id="garden-calendar">${state.say("screen.calendar.title")}</h2>
    <p class="soft">${state.say("screen.calendar.line")}</p>
    ${state.calendars.made ? made(state, state.calendars.made) : nothing}
    ${known(state, actions)}
    <div class="presses">
      ${press(state.say("screen.calendar.make"), () => actions.makeCalendar(), "press-field")}
      ${
        state.calendars.known === null
          ? press(state.say("screen.calendar.ask"), () => actions.askCalendars(), "press-field")
          : nothing
      }
    </div>
  </section>`;

/** @param {State} state @param {string} address */
const made = (state, address) =>
  html`<div class="chosen" role="status">
    <label class="field-label" for="calendar-address">${state.say("screen.calendar.address")}</label>
    <input
      id="calendar-address"
      class="text-input"
      readonly
      .value=${address}
      @focus=${(/** @type {Event} */ event) =>
        /** @type {HTMLInputElement} */ (event.target).select()}
    />
    <p class="small">${state.say("screen.calendar.once")}</p>
    ${
      navigator.clipboard
        ? press(
            state.say("screen.calendar.copy"),
            () => navigator.clipboard.writeText(address),
            "press-field",
          )
        : nothing
    }
  </div>`;

/** @param {State} state @param {Actions} actions */
function known(state, actions) {
  const { known: all } = state.calendars;
  if (all === null) return nothing;
  if (!all.length) return html`<p>${state.say("screen.calendar.none")}</p>`;
  return html`<ul class="go-list">
    ${all.map((one) => {
      const name = state.say("screen.calendar.of", {
        name: one.person,
        made_instant: one.created_at_ms / 1000,
      });
      return html`<li class="row">
        <span>${name}</span>
        ${press(
          state.say("screen.calendar.shut"),
          () => actions.shutCalendar(one.id),
          "press-quiet",
          state.say("screen.calendar.shut_named", { name }),
        )}
      </li>`;
    })}
  </ul>`;
}
