// @ts-check
// Beds by years: which crops stood where, in words. What goes against the rest is hatched and said.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { standingIn, standsOf, yearsOf } from "../garden/series/rotation.js";
import { toFinding, toPlanting } from "./paths.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Finding} Finding */

/** @param {State} state */
export function rotationTable(state) {
  const rests = restFindings(state);
  const stands = standsOf(state.plantings, state.today);
  if (!stands.length) return html`<p class="soft">${state.say("screen.rotation.none")}</p>`;
  const years = yearsOf(stands);
  const cell = (/** @type {Bed} */ bed, /** @type {number} */ year) =>
    standingIn(stands, bed.id, year).map((one) =>
      standing(state, one.planting, restsOf(rests, one.planting), one.first === year),
    );
  return html`<div
    class="table-scroll"
    tabindex="0"
    role="group"
    aria-label=${state.say("screen.rotation.title")}
  >
    <table class="rotation">
      <thead>
        <tr>
          <th scope="col">${state.say("screen.rotation.bed")}</th>
          ${years.map((year) => html`<th scope="col">${year}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${state.beds.map(
          (bed) =>
            html`<tr>
              <th scope="row">${state.say("screen.who.bed", { bed: bed.id })}</th>
              ${years.map((year) => html`<td>${cell(bed, year)}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

/** What rules on rest say of the plan and of what stands. @param {State} state */
export const restFindings = (state) =>
  state.findings.filter((finding) => state.look.rule(finding.rule)?.shape === "rest");

/** @param {Finding[]} rests @param {Planting} planting */
const restsOf = (rests, planting) =>
  rests.filter((finding) => finding.subject.planting === planting.id);

/**
 * @param {State} state
 * @param {Planting} planting
 * @param {Finding[]} rests
 * @param {boolean} isStart
 */
function standing(state, planting, rests, isStart) {
  const against = isStart ? rests.find((finding) => finding.state === "flagged") : undefined;
  const unknown =
    isStart && !against ? rests.find((finding) => finding.state === "unknown") : undefined;
  const found = against ?? unknown;
  return html`<div class="rotation-crop ${against ? "is-against" : ""}">
    <a href=${toPlanting(planting.id)}
      >${state.say("screen.who.planting", { planting: planting.id })}</a
    >
    ${
      planting.from_day === undefined
        ? html`<span class="small">${state.say("screen.rotation.planned")}</span>`
        : nothing
    }
    ${
      found
        ? html`<a class="small ${against ? "state-words" : ""}" href=${toFinding(found.key)}
            >${state.say(against ? "screen.rotation.too_soon" : "screen.rotation.unknown")}</a
          >`
        : nothing
    }
  </div>`;
}
