// @ts-check
// The two ways to a picture: the camera, and what the phone has already.
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */

/** Who may only read writes nothing, so no camera opens for them. @param {State} state */
export const mayAddPhoto = (state) =>
  state.session?.role !== "reader" && state.look.kind("photo") !== undefined;

/**
 * @param {State} state
 * @param {(file: File) => Promise<unknown>} take
 */
export const addPhoto = (state, take) =>
  mayAddPhoto(state)
    ? html`<div class="presses presses-two">
        ${chooser(state.say("action.add_photo"), take, true)}
        ${chooser(state.say("action.choose_picture"), take, false)}
      </div>`
    : nothing;

/** @param {string} words @param {(file: File) => Promise<unknown>} take @param {boolean} isCamera */
const chooser = (words, take, isCamera) =>
  html`<label class="press press-field file-press">
    <input
      class="unseen"
      type="file"
      accept="image/*"
      capture=${isCamera ? "environment" : nothing}
      @change=${(/** @type {Event} */ event) => taken(event, take)}
    />
    <span>${words}</span>
  </label>`;

/** @param {Event} event @param {(file: File) => Promise<unknown>} take */
async function taken(event, take) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  if (!file) return;
  input.disabled = true;
  try {
    await take(file);
  } finally {
    // The same picture may be chosen again.
    input.value = "";
    input.disabled = false;
  }
}
