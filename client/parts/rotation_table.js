// @ts-check
// Beds by years: which crops stood where, in words. What goes against the rest is hatched and said.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { civilDate, parseDay } from "../log/moment.js";
import { toFinding, toPlanting } from "./paths.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Finding} Finding */

/** @param {State} state */
export function rotationTable(state) {
  const rests = state.findings.filter((finding) => state.look.rule(finding.rule)?.shape === "rest");
  const placed = state.plantings.flatMap((planting) => {
    const years = planting.bed ? yearsOf(state, planting) : undefined;
    return years ? [{ planting, ...years }] : [];
  });
  if (!placed.length) return html`<p class="soft">${state.say("screen.rotation.none")}</p>`;
  const first = Math.min(...placed.map((one) => one.first));
  const last = Math.max(...placed.map((one) => one.last));
  const years = Array.from({ length: last - first + 1 }, (_, at) => first + at);
  const cell = (/** @type {Bed} */ bed, /** @type {number} */ year) =>
    placed
      .filter((one) => one.planting.bed === bed.id && one.first <= year && year <= one.last)
      .map((one) =>
        standing(
          state,
          one.planting,
          rests.filter((finding) => finding.subject.planting === one.planting.id),
          one.first === year,
        ),
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

/**
 * From the year it was set out, or is to be, to the year it ended.
 * @param {State} state
 * @param {Planting} planting
 */
function yearsOf(state, planting) {
  const from = planting.from_day ?? dayOf(planting.planned_on);
  if (from === undefined) return undefined;
  const until = planting.until_day ?? Math.max(from, planting.standing ? state.today : from);
  return { first: civilDate(from)[0], last: civilDate(until)[0] };
}

/** @param {unknown} text */
function dayOf(text) {
  return typeof text === "string" ? parseDay(text) : undefined;
}

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
