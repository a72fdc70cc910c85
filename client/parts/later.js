// @ts-check
// Screens that are seldom opened: their code is fetched when one of them is, from what the service
// worker keeps, so that the first load stays small.
import { html } from "../vendor/lit-html/lit-html.js";
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";
import { title } from "./title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {{view: (state: State, actions: Actions) => unknown}} Screen */

class Coming extends AsyncDirective {
  /** @type {[Promise<Screen>, State, Actions] | undefined} */
  wanted;

  /** @param {Promise<Screen>} screen @param {State} state @param {Actions} actions */
  render(screen, state, actions) {
    const isAsked = this.wanted?.[0] === screen;
    this.wanted = [screen, state, actions];
    if (!isAsked) void this.wait(screen, state);
    return html`${title(state.say("screen.page.opening"))}`;
  }

  /** @param {Promise<Screen>} screen @param {State} state */
  async wait(screen, state) {
    const found = await screen.catch(() => undefined);
    if (!this.isConnected || !this.wanted || this.wanted[0] !== screen) return;
    const [, now, actions] = this.wanted;
    // Neither kept nor in reach: a reload asks again.
    const missing = html`${title(state.say("screen.page.not_kept"))}`;
    this.setValue(found ? found.view(now, actions) : missing);
  }
}

const coming = directive(Coming);

/**
 * @param {() => Promise<Screen>} load
 * @returns {Screen}
 */
export function later(load) {
  /** @type {Screen | undefined} */
  let screen;
  /** @type {Promise<Screen> | undefined} */
  let promise;
  return {
    view: (state, actions) => {
      if (screen) return screen.view(state, actions);
      promise ??= load().then((found) => (screen = found));
      return coming(promise, state, actions);
    },
  };
}
