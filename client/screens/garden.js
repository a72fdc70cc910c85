// @ts-check
// The garden's own settings, its beds, and the devices that may write in it.
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { bedFacts } from "../parts/bed_facts.js";
import { calendars } from "../parts/calendars.js";
import { devices } from "../parts/devices.js";
import { entryForm } from "../parts/form.js";
import { inviting } from "../parts/inviting.js";
import { toBed, toEvening } from "../parts/paths.js";
import { pressLink } from "../parts/press.js";
import { changedFields } from "../parts/record_modes.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

const ASKED = [
  "latitude_deg",
  "longitude_deg",
  "elevation_m",
  "zone",
  "last_frost",
  "stale_after_hours",
];

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const isLead = state.session?.role === "lead";
  return html`${title(state.say("screen.garden.title"), { line: state.session?.garden.name })}
    ${
      isLead
        ? settings(state, actions)
        : html`<p class="soft">${state.say("screen.garden.lead_sets")}</p>`
    }
    <section class="stack" aria-labelledby="garden-beds">
      <h2 id="garden-beds">${state.say("screen.garden.beds")}</h2>
      ${
        state.beds.length
          ? html`<ol class="go-list">
              ${state.beds.map(
                (bed) =>
                  html`<li>
                    <a href=${toBed(bed.id)}>
                      <span>${state.say("screen.who.bed", { bed: bed.id })}</span
                      ><span class="soft small">${bedFacts(state, bed)}</span></a
                    >
                  </li>`,
              )}
            </ol>`
          : nothing
      }
      <div class="presses">
        ${pressLink(state.say("action.new_bed"), "#/new/bed", "press-field")}
        ${pressLink(state.say("screen.greeting.again"), "#/start", "press-field")}
        ${pressLink(state.say("action.scan"), "#/scan", "press-field")}
        ${pressLink(state.say("action.paper"), "#/paper", "press-field")}
        ${
          isLead ? pressLink(state.say("action.order_walk"), "#/walk", "press-field") : nothing
        }
        ${pressLink(state.say("screen.evening.name"), toEvening(), "press-field press-quiet")}
      </div>
    </section>
    ${calendars(state, actions)}
    <section class="stack" aria-labelledby="garden-devices">
      <h2 id="garden-devices">${state.say("screen.garden.devices")}</h2>
      ${devices(state, isLead ? (device) => actions.revokeDevice(device.id) : undefined)}
      ${
        isLead
          ? inviting(state, actions)
          : html`<p class="soft">${state.say("screen.garden.lead_only")}</p>`
      }
    </section>`;
}

/** @param {State} state @param {Actions} actions */
function settings(state, actions) {
  const kind = state.look.kind("setting");
  if (!kind) return nothing;
  const before = Object.fromEntries(
    ASKED.flatMap((name) =>
      state.settings[name] === undefined || state.settings[name] === null
        ? []
        : [[name, state.settings[name]]],
    ),
  );
  const start = { zone: state.zone, ...before };
  return html`<section class="stack" aria-labelledby="garden-settings">
    <h2 id="garden-settings">${state.say("screen.garden.settings")}</h2>
    ${entryForm(state, actions, {
      key: `setting ${JSON.stringify(before)}`,
      kind,
      only: ASKED,
      first: ASKED,
      isMaking: true,
      start: { subjects: {}, details: start },
      hideSubjects: true,
      hideWhen: true,
      submitWords: state.say("action.save"),
      submit: async ({ details }) => {
        const changed = changedFields(before, details);
        if (Object.keys(changed).length)
          await writtenOrHeld(actions.record({ kind: "setting", details: changed }));
      },
    })}
  </section>`;
}
