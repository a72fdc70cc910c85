// @ts-check
// Draws each state into the page. A screen that breaks down takes neither the page nor the sync
// with it: a plainer one stands in until the next state can be drawn.
import { view as brokenView } from "../screens/broken.js";
import { view } from "../screens/page.js";
import { render } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/**
 * @param {HTMLElement} page
 * @param {Actions} actions
 * @returns {(state: State) => void}
 */
export function makeDraw(page, actions) {
  let place = freshPlace(page);
  let isBroken = false;
  return (state) => {
    // What broke off in the middle leaves a place that can't be drawn into again.
    if (isBroken) place = freshPlace(page);
    isBroken = false;
    try {
      render(view(state, actions), place);
    } catch (error) {
      console.error(error);
      isBroken = true;
      place = freshPlace(page);
      render(brokenView(state, actions, error), place);
    }
  };
}

/** @param {HTMLElement} page */
function freshPlace(page) {
  const place = document.createElement("div");
  page.replaceChildren(place);
  return place;
}
