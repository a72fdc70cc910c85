// @ts-check
// One photo at the width of the screen: of what, from when and by whom, and what is said of it.
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { mayAddPhoto } from "../parts/add_photo.js";
import { mendingLines } from "../parts/mending_lines.js";
import { toEntry, toRecord, toSubject } from "../parts/paths.js";
import { pictureOf } from "../parts/pictures.js";
import { press, pressLink } from "../parts/press.js";
import { doneOf, whereOf, writerOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const entry = state.look.entry(state.route.id);
  if (entry?.kind !== "photo") return lost(state);
  const photo = state.look.event(entry.id);
  const mendings = state.look.mendings(entry.id);
  const { bed, planting, plants } = photo ?? entry.subjects;
  const subjects = { bed, planting, plants };
  return html`${title(state.say("screen.photo.title"), {
      from: {
        words: bed || planting ? whereOf(state, subjects) : state.say("screen.round.name"),
        href: toSubject(subjects),
      },
      line: photo ? state.say("screen.value.moment", { at_instant: photo.instant }) : undefined,
    })}
    ${photo ? shown(state, actions, photo) : takenBack(state)}
    ${photo ? about(state, entry, photo) : nothing}
    ${mendings.length ? mendingLines(state, mendings, { linked: false }) : nothing}
    ${mayAddPhoto(state) ? doing(state, actions, entry, photo !== undefined) : nothing}`;
}

/** @param {State} state */
const takenBack = (state) =>
  html`<p class="band band-unknown">
    <span class="band-words">${state.say("screen.entry.taken_back")}</span>
  </p>`;

/** @param {State} state @param {Actions} actions @param {LoggedEvent} photo */
const shown = (state, actions, photo) =>
  html`<figure class="photo">
    ${pictureOf(state, actions, photo, "screen.photo.why")}
    ${photo.details.note ? html`<figcaption>${photo.details.note}</figcaption>` : nothing}
  </figure>`;

/** @param {State} state @param {Entry} entry @param {LoggedEvent} photo */
function about(state, entry, photo) {
  const sha256 = String(photo.details.sha256);
  const shows = state.look.event(String(photo.details.shows));
  return html`<dl class="facts">
    <dt>${state.say("screen.entry.by")}</dt>
    <dd>${writerOf(state, entry)}</dd>
    <dt>${state.say("screen.entry.shed")}</dt>
    <dd>${state.say(whereItIs(state, entry.id, sha256))}</dd>
    ${
      shows
        ? html`<dt>${state.say("screen.photo.with")}</dt>
            <dd><a class="text-press" href=${toEntry(shows.id)}>${doneOf(state, shows.kind)}</a></dd>`
        : nothing
    }
  </dl>`;
}

/** @param {State} state @param {string} entry @param {string} sha256 */
function whereItIs(state, entry, sha256) {
  if (state.refusedPhotos.some((row) => row.sha256 === sha256)) return "screen.photo.refused";
  const isWaiting = state.look.isWaiting(entry) || state.waitingPhotos.has(sha256);
  return isWaiting ? "screen.entry.waits" : "screen.entry.arrived";
}

/** @param {State} state @param {Actions} actions @param {Entry} entry @param {boolean} isTold */
function doing(state, actions, entry, isTold) {
  if (!isTold)
    return html`<div class="presses">
      ${press(state.say("action.put_back"), () => actions.restore(entry.id), "press-field")}
    </div>`;
  return html`<div class="presses presses-two">
    ${pressLink(
      state.say("screen.photo.note"),
      toRecord("photo", {}, { correct: entry.id }),
      "press-field",
    )}
    ${press(
      state.say("action.take_back"),
      () => writtenOrHeld(actions.undo(entry.id)),
      "press-field",
    )}
  </div>`;
}
