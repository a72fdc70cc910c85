// @ts-check
// What was seen in a bed's soil, which stays on its page for years, and a way to mark a place.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toFinding, toRecord } from "./paths.js";
import { pressLink } from "./press.js";
import { messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */

/** @param {State} state @param {string} bed */
export function soilTroubles(state, bed) {
  const here = state.findings.filter(
    (finding) =>
      finding.subject.bed === bed && state.look.rule(finding.rule)?.shape === "soil_spots",
  );
  return html`<section class="stack" aria-labelledby="bed-soil">
    <h2 id="bed-soil">${state.say("screen.spots.title")}</h2>
    ${
      here.length
        ? html`<ul class="stack">
            ${here.map(
              (finding) =>
                html`<li>
                  ${messageOf(state, finding)}
                  <a href=${toFinding(finding.key)}>${state.say("action.why")}</a>
                </li>`,
            )}
          </ul>`
        : nothing
    }
    <div class="row">
      ${pressLink(state.say("action.mark_spot"), toRecord("spot", { bed }), "press-quiet")}
    </div>
  </section>`;
}
