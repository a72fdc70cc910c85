// @ts-check
// The page around every screen: masthead with what waits, the sheet, the bar, what was just
// written.
import { isWritten } from "../garden/walk_written.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { IS_EXAMPLE } from "../store/which.js";
import { exampleBand } from "./example_band.js";
import { glyph } from "./glyph.js";
import { notices } from "./notices.js";
import { toScoutingWalk } from "./paths.js";
import { shortTime } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

const PLACES = /** @type {const} */ (["round", "log", "shed", "phone"]);
/** Which place on the bar a screen belongs to. */
const HOME = new Map([
  ["bed", "round"],
  ["planting", "round"],
  ["plant", "round"],
  ["scouting-walk", "round"],
  ["could-be", "round"],
  ["record", "round"],
  ["finding", "round"],
  ["new", "round"],
  ["walk", "round"],
  ["start", "round"],
  ["scan", "round"],
  ["t", "round"],
  ["entry", "log"],
  ["photo", "log"],
  ["attention", "phone"],
  ["evening", "shed"],
  ["garden", "shed"],
  ["paper", "shed"],
  ["join", "phone"],
]);
const WIDE = new Set(["evening", "shed"]);

/**
 * @param {State} state
 * @param {Actions} actions
 * @param {unknown} sheet
 */
export function frame(state, actions, sheet) {
  const name = state.route.name;
  return html`<div class="page">
    <a class="skip" href="#sheet" @click=${skipToSheet}>${state.say("action.skip")}</a>
    <header class="masthead">
      <span class="masthead-name"
        >${
          state.settings.name ?? state.session?.garden.name ?? state.say("screen.frame.no_garden")
        }</span
      >
      ${state.session && !IS_EXAMPLE ? status(state) : nothing}
    </header>
    ${IS_EXAMPLE ? exampleBand(state, actions) : nothing}
    <main id="sheet" class="sheet ${WIDE.has(name) ? "sheet-wide" : ""}" tabindex="-1">
      ${sheet}${help(state, name)}
    </main>
    ${state.session ? bar(state) : nothing} ${notices(state, actions)}
  </div>`;
}

/** The hash is the route, so the skip link moves focus itself. @param {Event} event */
function skipToSheet(event) {
  event.preventDefault();
  document.getElementById("sheet")?.focus();
}

/** @param {State} state */
function status(state) {
  const attention =
    state.attention.length + state.faulty.length + state.refusedPhotos.length;
  return html`<div class="masthead-status">
    <a href="#/phone">${state.say("screen.frame.waiting", { count: state.waiting })}</a>
    ${
      state.waitingPhotos.size
        ? html`<a href="#/phone"
            >${state.say("screen.frame.photos_wait", { count: state.waitingPhotos.size })}</a
          >`
        : nothing
    }
    <a href="#/phone"
      >${
        state.lastSyncMs === null
          ? state.say("screen.frame.never_heard")
          : state.say("screen.frame.heard", { time: shortTime(state, state.lastSyncMs) })
      }</a
    >
    ${
      attention
        ? html`<a class="is-loud" href="#/attention"
            >${state.say("screen.frame.attention", { count: attention })}</a
          >`
        : nothing
    }
    ${
      state.update
        ? html`<a class="is-loud" href="#/phone">${state.say("screen.frame.update")}</a>`
        : nothing
    }
    ${state.walks
      .filter((walk) => !isWritten(state, walk))
      .map(
        ({ planting }) =>
          html`<a class="is-loud" href=${toScoutingWalk(planting)}>${state.say("screen.frame.walk")}</a>`,
      )}
    ${
      state.unsaved
        ? html`<a class="is-loud" href="#/phone"
            >${state.say("screen.frame.unsaved", { count: state.unsaved })}</a
          >`
        : nothing
    }
  </div>`;
}

/** @param {State} state */
function bar(state) {
  const here = HOME.get(state.route.name) ?? state.route.name;
  return html`<nav class="bar" aria-label=${state.say("screen.frame.places")}>
    <ul>
      ${PLACES.map(
        (place) =>
          html`<li>
            <a
              href=${place === "round" ? "#/" : `#/${place}`}
              aria-current=${place === here ? "page" : nothing}
              >${glyph(place)}<span>${state.say(`screen.${place}.name`)}</span></a
            >
          </li>`,
      )}
    </ul>
  </nav>`;
}

/** @param {State} state @param {string} name */
function help(state, name) {
  const text = state.sayIf(`help.${name}`);
  return text === null
    ? nothing
    : html`<details class="help">
        <summary>${state.say("action.help")}</summary>
        <p>${text}</p>
      </details>`;
}
