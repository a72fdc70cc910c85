// @ts-check
// Screens that are seldom opened: their code is fetched when one of them is, from what the service
// worker keeps, so that the first load stays small.
import { html } from "../vendor/lit-html/lit-html.js";
import { title } from "./title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {{view: (state: State, actions: Actions) => unknown}} Screen */

/** Neither kept nor in reach: tried again so much later, when something has changed meanwhile. */
const AGAIN_MS = 10_000;

/**
 * @param {() => Promise<Screen>} load
 * @returns {Screen}
 */
export function later(load) {
  /** @type {Screen | undefined} */
  let screen;
  let isMissing = false;
  let askedMs = -Infinity;

  /** @param {Actions} actions */
  async function ask(actions) {
    askedMs = performance.now();
    screen = await load().catch(() => undefined);
    isMissing = !screen;
    actions.redraw();
  }

  return {
    view: (state, actions) => {
      if (screen) return screen.view(state, actions);
      if (performance.now() - askedMs > AGAIN_MS) void ask(actions);
      if (isMissing) return title(state.say("screen.page.not_kept"));
      return html`${title(state.say("screen.page.opening"))}
        <div class="opening"></div>`;
    },
  };
}
