// @ts-check
// Entries as lines of a book: time in the margin, what was done, for whom, by whom.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { toEntry, toPhoto } from "./paths.js";
import { pictureOf } from "./pictures.js";
import { doneOf, gist, whereOf, whoOf, writerOf } from "./telling.js";
import { timeOf } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */

/**
 * @param {State} state @param {Actions} actions @param {LoggedEvent[]} events newest first
 * @param {{where?: boolean, level?: 2 | 3}} [how] with the bed named; level of the day's heading
 */
export function lines(state, actions, events, { where = true, level = 3 } = {}) {
  if (!events.length) return html`<p class="soft">${state.say("screen.lines.none")}</p>`;
  return html`<div class="lines">
    ${byDay(events).map(
      ([day, some]) =>
        html`<section class="day">
          ${
            level === 2
              ? html`<h2 class="day-head">${state.say("screen.value.day", { at_day: day })}</h2>`
              : html`<h3 class="day-head">${state.say("screen.value.day", { at_day: day })}</h3>`
          }
          <ul>
            ${repeat(
              some,
              (event) => event.id,
              (event) => line(state, actions, event, where),
            )}
          </ul>
        </section>`,
    )}
  </div>`;
}

/** @param {LoggedEvent[]} events @returns {[number, LoggedEvent[]][]} */
function byDay(events) {
  /** @type {Map<number, LoggedEvent[]>} */
  const days = new Map();
  for (const event of events) days.set(event.day, [...(days.get(event.day) ?? []), event]);
  return [...days];
}

/**
 * @param {State} state @param {Actions} actions @param {LoggedEvent} event @param {boolean} where
 */
function line(state, actions, event, where) {
  const isPhoto = event.kind === "photo";
  const subject = { bed: event.bed, planting: event.planting, plants: event.plants };
  const told = gist(state, event.kind, event.details);
  const isSomewhere = event.bed || event.planting;
  return html`<li class="line">
    <span class="line-time">${timeOf(event)}</span>
    <div>
      <p>
        <a class="line-link" href=${isPhoto ? toPhoto(event.id) : toEntry(event.id)}
          ><b>${doneOf(state, event.kind)}</b
          >${told ? html`<span class="line-told"> ${told}</span>` : nothing}</a
        >
      </p>
      ${
        isPhoto
          ? html`<a class="thumb line-photo" href=${toPhoto(event.id)}
              >${pictureOf(state, actions, event, "screen.photo.short")}</a
            >`
          : nothing
      }
      <p class="small soft">
        ${
          isSomewhere
            ? html`<span>${where ? whereOf(state, subject) : whoOf(state, subject)}</span>`
            : nothing
        }
        ${event.person ? html`<span>${writerOf(state, event)}</span>` : nothing}
        ${
          state.look.isWaiting(event.id)
            ? html`<span class="line-waits">${state.say("screen.lines.waits")}</span>`
            : nothing
        }
        ${
          event.lifted
            ? html`<span class="line-waits"
                >${state.say("screen.lines.lifted", {
                  person: event.lifted.person,
                  at_instant: event.lifted.instant,
                })}</span
              >`
            : nothing
        }
      </p>
    </div>
  </li>`;
}
