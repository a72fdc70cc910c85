// @ts-check
// Signs to pick, part by part of the plant, in boxes that a wet thumb finds.
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */

/** The parts that are open from the start: where most is seen. */
const OPEN = new Set(["whole_plant", "leaf", "fruit"]);

/**
 * The catalogue, less the signs that no trouble of the crop shows.
 * @param {State} state
 * @param {ReadonlyMap<string, number>} shown
 * @returns {[string, string[]][]}
 */
export const signsByPart = ({ rulebook }, shown) =>
  Object.entries(rulebook.signs)
    .map(
      ([organ, signs]) =>
        /** @type {[string, string[]]} */ ([organ, signs.filter((sign) => shown.has(sign))]),
    )
    .filter(([, signs]) => signs.length);

/**
 * @param {State} state
 * @param {[string, string[]][]} parts
 * @param {ReadonlySet<string>} picked
 * @param {(sign: string) => void} toggle
 */
export const signPicker = (state, parts, picked, toggle) =>
  html`${parts.map(([organ, signs]) => {
    const words = state.say(`organ.${organ}`);
    const count = signs.filter((sign) => picked.has(sign)).length;
    return html`<details class="signs-part" ?open=${OPEN.has(organ)}>
      <summary>
        <span>${words}</span>
        ${
          count
            ? html`<span class="signs-count">${state.say("screen.could_be.picked", { count })}</span>`
            : nothing
        }
      </summary>
      <fieldset>
        <legend class="unseen">${words}</legend>
        <div class="boxes">
          ${signs.map(
            (sign) =>
              html`<label class="box">
                <input
                  type="checkbox"
                  .checked=${picked.has(sign)}
                  @change=${() => toggle(sign)}
                />
                <span>${state.say(`sign.${sign}`)}</span>
              </label>`,
          )}
        </div>
      </fieldset>
    </details>`;
  })}`;
