// @ts-check
// The photos of an entry that is not written yet.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { addPhoto, mayAddPhoto } from "./add_photo.js";
import { picture } from "./picture.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Picture} Picture */
/**
 * @typedef {object} Taken
 * @property {Picture[]} pictures
 * @property {Promise<unknown> | undefined} shrinking until all that were chosen are made ready
 */

/** @returns {Taken} */
export const noneTaken = () => ({ pictures: [], shrinking: undefined });

/**
 * @param {State} state @param {Actions} actions @param {Taken} taken
 * @param {(alter: (taken: Taken) => void) => void} change
 */
export function formPictures(state, actions, taken, change) {
  if (!mayAddPhoto(state)) return nothing;
  const add = (/** @type {File} */ file) => {
    const make = () =>
      actions.shrinkPicture(file).then((made) =>
        change((now) => {
          const isNew = made && !now.pictures.some(({ sha256 }) => sha256 === made.sha256);
          if (isNew) now.pictures = [...now.pictures, made];
        }),
      );
    // One after the other: they keep their order, and the last is through when all are.
    const shrinking = (taken.shrinking ?? Promise.resolve()).then(make, make);
    change((now) => {
      now.shrinking = shrinking;
    });
    return shrinking;
  };
  return html`<fieldset class="field">
    <legend class="field-label">${state.say("screen.photo.pictures")}</legend>
    ${
      taken.pictures.length
        ? html`<ul class="thumbs">
            ${repeat(
              taken.pictures,
              ({ sha256 }) => sha256,
              (one, at) => html`<li class="thumb-taken">${thumb(state, one, at, change)}</li>`,
            )}
          </ul>`
        : nothing
    }
    ${addPhoto(state, add)}
  </fieldset>`;
}

/**
 * @param {State} state @param {Picture} one @param {number} at
 * @param {(alter: (taken: Taken) => void) => void} change
 */
function thumb(state, one, at, change) {
  const name = state.say("screen.photo.taken", { number: at + 1 });
  const find = async () => new Blob([one.image], { type: one.type });
  const leaveOut = () =>
    change((now) => {
      now.pictures = now.pictures.filter((other) => other !== one);
    });
  return html`<span class="thumb"
      >${picture({ key: one.sha256, find, alt: name, heardMs: null, whyNot: () => "" })}</span
    >
    <button
      type="button"
      class="press press-field press-quiet press-wide"
      aria-label=${state.say("screen.photo.leave_out_name", { name })}
      @click=${leaveOut}
    >
      ${state.say("screen.photo.leave_out")}
    </button>`;
}
