// @ts-check
// The photos of a bed, a planting or an entry, small, and the way to another one.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { addPhoto, mayAddPhoto } from "./add_photo.js";
import { toPhoto, toPhotos } from "./paths.js";
import { picture } from "./picture.js";
import { whereOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("../types.js").Subjects} Subjects */

const SHOWN = 9;

/**
 * @param {State} state @param {Actions} actions @param {LoggedEvent[]} photos newest first
 * @param {{subjects: Subjects, shows?: string}} about what another photo would be of
 */
export function pictures(state, actions, photos, { subjects, shows }) {
  if (!photos.length && !mayAddPhoto(state)) return nothing;
  const add = (/** @type {File} */ file) => actions.addPhoto(file, subjects, shows);
  return html`<section class="stack" aria-labelledby="pictures">
    <h2 id="pictures">${state.say("screen.photo.pictures")}</h2>
    ${
      photos.length
        ? html`<ul class="thumbs">
            ${repeat(
              photos.slice(0, SHOWN),
              (photo) => photo.id,
              (photo) =>
                html`<li>
                  <a class="thumb" href=${toPhoto(photo.id)}
                    >${pictureOf(state, actions, photo, "screen.photo.short")}</a
                  >
                </li>`,
            )}
          </ul>`
        : nothing
    }
    ${
      photos.length > SHOWN
        ? html`<p>
            <a class="text-press" href=${toPhotos(subjects.bed)}
              >${state.say("action.all_pictures")}</a
            >
          </p>`
        : nothing
    }
    ${addPhoto(state, add)}
  </section>`;
}

/**
 * @param {State} state @param {Actions} actions @param {LoggedEvent} photo
 * @param {"screen.photo.why" | "screen.photo.short"} whyNot how to say that there is none to show
 */
export const pictureOf = (state, actions, photo, whyNot) =>
  picture({
    key: String(photo.details.sha256),
    find: () => actions.findPicture(String(photo.details.sha256)),
    alt: altOf(state, photo),
    heardMs: state.lastSyncMs,
    whyNot: (why) => state.say(`${whyNot}_${why}`),
  });

/** What is known of it, for who can't see it. @param {State} state @param {LoggedEvent} photo */
export function altOf(state, { bed, planting, plants, day, details }) {
  const what = whereOf(state, { bed, planting, plants });
  const told = state.say("screen.photo.alt", { what, at_day: day });
  return typeof details.note === "string" ? `${told}: ${details.note}` : told;
}

/** The photos that were taken with an entry. @param {State} state @param {string} entry */
export const photosShowing = (state, entry) =>
  state.look.events({ kind: "photo" }).filter((photo) => photo.details.shows === entry);
