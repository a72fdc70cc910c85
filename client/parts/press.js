// @ts-check
// Buttons that wait for what they started, so that a second tap with a wet thumb records nothing.
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/**
 * A click listener that ignores taps until its work is done.
 * @param {() => unknown} work
 */
export function once(work) {
  return async (/** @type {Event} */ event) => {
    const button = /** @type {HTMLButtonElement} */ (event.currentTarget);
    if (button.ariaBusy === "true") return;
    button.ariaBusy = "true";
    try {
      await work();
    } finally {
      button.ariaBusy = null;
    }
  };
}

/**
 * @param {unknown} words
 * @param {() => unknown} work
 * @param {string} [look] further classes
 * @param {string} [name] a longer name for who can't see the surroundings
 */
export const press = (words, work, look = "", name = undefined) =>
  html`<button
    type="button"
    class="press ${look}"
    aria-label=${name ?? nothing}
    @click=${once(work)}
  >
    ${words}
  </button>`;

/**
 * @param {unknown} words
 * @param {string} href
 * @param {string} [look]
 * @param {string} [name]
 */
export const pressLink = (words, href, look = "", name = undefined) =>
  html`<a class="press ${look}" aria-label=${name ?? nothing} href=${href}>${words}</a>`;
