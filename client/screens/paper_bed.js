// @ts-check
// A bed's history on paper: its plantings by year, and all that was written down, day by day.
import { civilDate } from "../log/moment.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { bedFacts } from "../parts/bed_facts.js";
import { box } from "../parts/choosing.js";
import { paperHead } from "../parts/paper_head.js";
import { toBedPaper } from "../parts/paths.js";
import { pictureOf } from "../parts/pictures.js";
import { doneOf, gist, whoOf, writerOf } from "../parts/telling.js";
import { lost } from "../parts/title.js";
import { timeOf } from "../parts/wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const bed = state.look.bed(state.route.query.bed ?? "");
  if (!bed) return lost(state);
  const withPhotos = state.route.query.photos === "1";
  const events = state.look.events({ bed: bed.id });
  return html`${paperHead(state, state.say("screen.paper.bed.title", { bed: bed.id }), {
      line: bedFacts(state, bed),
    })}
    <div class="screen-only">
      ${box("checkbox", "paper-photos", "photos", state.say("screen.paper.bed.photos"), withPhotos, () =>
        actions.go(toBedPaper(bed.id, !withPhotos)),
      )}
    </div>
    <section class="stack" aria-labelledby="paper-plantings">
      <h2 id="paper-plantings">${state.say("screen.bed.plantings")}</h2>
      ${plantings(state, bed.id)}
    </section>
    <section class="stack" aria-labelledby="paper-days">
      <h2 id="paper-days">${state.say("screen.paper.bed.days")}</h2>
      ${days(state, actions, events, withPhotos)}
    </section>`;
}

/** @param {State} state @param {string} bed */
function plantings(state, bed) {
  // Also what has been moved elsewhere since, or is in the plan alone.
  const here = state.plantings.filter(
    (planting) => planting.bed === bed || planting.beds?.includes(bed),
  );
  if (!here.length) return html`<p class="soft">${state.say("screen.bed.none_planted")}</p>`;
  const head = (/** @type {string} */ name) =>
    html`<th scope="col">${state.say(`screen.paper.bed.${name}`)}</th>`;
  return html`<div class="table-scroll" tabindex="0" role="group" aria-labelledby="paper-plantings">
    <table>
      <thead>
        <tr>
          ${["year", "planting", "plants", "from", "until"].map(head)}
        </tr>
      </thead>
      <tbody>
        ${here
          .map((planting) => ({ planting, first: firstDay(planting) }))
          .sort((a, b) => (b.first ?? Infinity) - (a.first ?? Infinity))
          .map(({ planting, first }) => plantingRow(state, bed, planting, first))}
      </tbody>
    </table>
  </div>`;
}

/** @param {Planting} planting */
const firstDay = ({ from_day: from, sown_day: sown }) => from ?? sown;

/** @param {State} state @param {string} bed @param {Planting} planting @param {number | undefined} first */
function plantingRow(state, bed, planting, first) {
  const until = planting.left?.[bed] ?? planting.until_day;
  const day = (/** @type {number | undefined} */ at) =>
    at === undefined ? "–" : state.say("screen.value.day", { at_day: at });
  return html`<tr>
    <td>${first === undefined ? "–" : civilDate(first)[0]}</td>
    <th scope="row">${state.say("screen.who.planting", { planting: planting.id })}</th>
    <td>${planting.plants ?? "–"}</td>
    <td>${day(planting.from_day)}</td>
    <td>${day(until)}</td>
  </tr>`;
}

/** @param {State} state @param {Actions} actions @param {LoggedEvent[]} events @param {boolean} withPhotos */
function days(state, actions, events, withPhotos) {
  const told = events.filter((event) => event.kind !== "photo" || withPhotos);
  if (!told.length) return html`<p class="soft">${state.say("screen.lines.none")}</p>`;
  const head = (/** @type {string} */ name) =>
    html`<th scope="col">${state.say(`screen.paper.bed.${name}`)}</th>`;
  return html`<div class="table-scroll" tabindex="0" role="group" aria-labelledby="paper-days">
    <table>
      <thead>
        <tr>
          ${["when", "what", "for", "who"].map(head)}
        </tr>
      </thead>
      <tbody>
        ${told.map((event, at) =>
          eventRow(state, actions, event, event.day !== told[at - 1]?.day),
        )}
      </tbody>
    </table>
  </div>`;
}

/** @param {State} state @param {Actions} actions @param {LoggedEvent} event @param {boolean} isFirst of its day */
function eventRow(state, actions, event, isFirst) {
  const told = gist(state, event.kind, event.details);
  return html`<tr class=${isFirst ? "day-first" : ""}>
    <td class="when">
      ${isFirst ? html`${state.say("screen.value.day", { at_day: event.day })}, ` : nothing}${timeOf(event)}
    </td>
    <td>
      <b>${doneOf(state, event.kind)}</b> ${told}
      ${
        event.kind === "photo"
          ? html`<span class="paper-photo"
              >${pictureOf(state, actions, event, "screen.photo.short")}</span
            >`
          : nothing
      }
      ${
        event.lifted
          ? html`<br />${state.say("screen.lines.lifted", {
              person: event.lifted.person,
              at_instant: event.lifted.instant,
            })}`
          : nothing
      }
    </td>
    <td>${event.planting ? whoOf(state, event) : "–"}</td>
    <td>${event.person ? writerOf(state, event) : "–"}</td>
  </tr>`;
}
