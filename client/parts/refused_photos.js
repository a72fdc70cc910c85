// @ts-check
// Photos that the shed would not take: why, and that they are kept here.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { toPhoto } from "./paths.js";
import { pictureOf } from "./pictures.js";
import { press } from "./press.js";
import { whereOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").PhotoRow} PhotoRow */

/** @param {State} state @param {Actions} actions */
export function refusedPhotos(state, actions) {
  if (!state.refusedPhotos.length) return nothing;
  const told = state.look.events({ kind: "photo" });
  return html`<ul class="stack-wide">
      ${repeat(
        state.refusedPhotos,
        (row) => row.id,
        (row) => one(state, actions, row, told.find((one) => one.details.sha256 === row.sha256)),
      )}
    </ul>
    ${press(
      state.say("action.send_photos_again"),
      () => actions.syncNow(),
      "press-field press-wide",
    )}`;
}

/**
 * @param {State} state @param {Actions} actions @param {PhotoRow} row
 * @param {import("../types.js").LoggedEvent | undefined} photo none when its entry was taken back
 */
const one = (state, actions, row, photo) =>
  html`<li class="stack marked marked-overdue">
    <h2>${state.say("screen.photo.title")}</h2>
    ${
      photo
        ? html`<p class="soft">
              ${whereOf(state, { bed: photo.bed, planting: photo.planting, plants: photo.plants })},
              ${state.say("screen.value.moment", { at_instant: photo.instant })}
            </p>
            <a class="thumb" href=${toPhoto(photo.id)}
              >${pictureOf(state, actions, photo, "screen.photo.short")}</a
            >`
        : nothing
    }
    <p class="state-words">${state.say("screen.attention.refused")}</p>
    <p>${state.sayIf(`error.${row.code}`) ?? row.said ?? nothing}</p>
  </li>`;
