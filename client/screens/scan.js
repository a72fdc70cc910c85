// @ts-check
// The camera over a tag, or its short code typed: either opens the bed, planting or plant.
import { readCode } from "../garden/tag_codes.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { camera } from "../parts/camera.js";
import { local } from "../parts/local.js";
import { codeInLink, toTag } from "../parts/paths.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {{typed: string, wrong: string | null, isOther: boolean}} Held */

/** @param {State} state @param {Actions} actions */
export const view = (state, actions) =>
  html`${title(state.say("screen.scan.title"), {
    from: { words: state.say("screen.round.name"), href: "#/" },
    line: state.say("screen.scan.line"),
  })}
  ${local(
    "scan",
    () => /** @type {Held} */ ({ typed: state.route.query.code ?? "", wrong: null, isOther: false }),
    (held, change) => html`${seen(state, actions, held, change)} ${typing(state, actions, held, change)}`,
  )}`;

/**
 * @param {State} state @param {Actions} actions @param {Held} held
 * @param {(alter: (held: Held) => void) => void} change
 */
function seen(state, actions, held, change) {
  const found = (/** @type {string} */ text) => {
    const code = codeInLink(text);
    if (code !== undefined) return actions.go(toTag(code));
    if (!held.isOther)
      change((now) => {
        now.isOther = true;
      });
  };
  return html`${camera(state, found)}
    <div role="status">
      ${held.isOther ? html`<p>${state.say("screen.scan.other")}</p>` : nothing}
    </div>`;
}

/**
 * @param {State} state @param {Actions} actions @param {Held} held
 * @param {(alter: (held: Held) => void) => void} change
 */
function typing(state, actions, held, change) {
  const open = (/** @type {Event} */ event) => {
    event.preventDefault();
    const read = readCode(held.typed);
    if ("body" in read) return actions.go(toTag(held.typed));
    change((now) => {
      now.wrong = read.wrong;
    });
  };
  const type = (/** @type {Event} */ event) =>
    change((now) => {
      now.typed = /** @type {HTMLInputElement} */ (event.target).value;
      now.wrong = null;
    });
  return html`<form class="form" @submit=${open} novalidate>
    <div class="field ${held.wrong ? "is-wrong" : ""}">
      <label class="field-label" for="scan-code">${state.say("screen.scan.code")}</label>
      <input
        id="scan-code"
        class="text-input code-input"
        type="text"
        autocomplete="off"
        autocapitalize="characters"
        spellcheck="false"
        aria-invalid=${held.wrong ? "true" : "false"}
        aria-describedby="scan-wrong"
        .value=${held.typed}
        @input=${type}
      />
      <div id="scan-wrong" role="status">
        ${
          held.wrong
            ? html`<p class="field-wrong">${state.say(`screen.scan.wrong.${held.wrong}`)}</p>`
            : nothing
        }
      </div>
    </div>
    <button type="submit" class="press press-ink press-field">${state.say("action.open_tag")}</button>
  </form>`;
}
