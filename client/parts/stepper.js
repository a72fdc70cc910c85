// @ts-check
// A number with a large minus and plus, so that wet hands need no keyboard.
import { shownAs, stepIn, toShown, toStored } from "../units.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/**
 * @typedef {object} Stepper
 * @property {string} id of the input, for its label
 * @property {string} label
 * @property {unknown} value a number, or text that is not one yet
 * @property {number} step
 * @property {number} [min]
 * @property {string} [unit] the metric one that value, step and min are in; the person may see
 *   and type another
 * @property {boolean} [whole] digits only on the phone's keyboard
 * @property {string} [describedBy]
 * @property {boolean} [invalid]
 * @property {(value: number | string | undefined) => void} change
 */

/** @param {State} state @param {Stepper} with_ */
export function stepper(state, with_) {
  const { id, label, unit } = with_;
  const shown = shownAs(state.preferences.units, unit ?? "");
  const value = typeof with_.value === "number" ? toShown(shown, with_.value) : with_.value;
  const step = stepIn(shown, with_.step);
  const least = with_.min === undefined ? -Infinity : toShown(shown, with_.min);
  const change = (/** @type {number | string | undefined} */ typed) =>
    with_.change(typeof typed === "number" ? toStored(shown, typed) : typed);
  const by = (/** @type {number} */ amount) => () => {
    const now = typeof value === "number" ? value : 0;
    change(Math.max(least, onStep(now + amount * strideAt(now, step, amount), step)));
  };
  return html`<div class="stepper">
    <span class="stepper-value">
      <input
        id=${id}
        inputmode=${with_.whole ? "numeric" : "decimal"}
        autocomplete="off"
        .value=${value === undefined ? "" : inWriting(state, value)}
        aria-describedby=${with_.describedBy ?? nothing}
        aria-invalid=${with_.invalid ? "true" : nothing}
        @input=${(/** @type {Event} */ event) => change(readNumber(event, false))}
        @change=${(/** @type {Event} */ event) => change(readNumber(event, true))}
      />
      ${unit ? html`<span class="stepper-unit" aria-hidden="true">${state.say("screen.value.unit", { unit })}</span>` : nothing}
    </span>
    <button
      type="button"
      class="press press-field"
      @click=${by(-1)}
      aria-label=${state.say("screen.form.less", { label })}
    >
      <span aria-hidden="true">−</span>
    </button>
    <button
      type="button"
      class="press press-field"
      @click=${by(1)}
      aria-label=${state.say("screen.form.more", { label })}
    >
      <span aria-hidden="true">+</span>
    </button>
  </div>`;
}

/**
 * A number with the mark of the person's language; what is still being typed stays as it is.
 * @param {State} state @param {unknown} value
 */
const inWriting = (state, value) =>
  typeof value === "number"
    ? String(value).replace(".", state.sayIf("value.decimal_mark") ?? ".")
    : String(value);

/**
 * Large amounts move in larger strides: 9, 10, 15 … 50, 60 for a step of 1.
 * @param {number} now @param {number} step @param {number} direction
 */
function strideAt(now, step, direction) {
  const steps = Math.abs(now) / step;
  const isAbove = (/** @type {number} */ limit) =>
    direction * now < 0 ? steps > limit : steps >= limit;
  return step * (isAbove(50) ? 10 : isAbove(10) ? 5 : 1);
}

/** Away from binary crumbs: 0.1 + 0.2 shows as 0.3. @param {number} value @param {number} step */
function onStep(value, step) {
  const decimals = (String(step).split(".")[1] ?? "").length;
  return Number(value.toFixed(Math.max(decimals, 2)));
}

/**
 * While typing, "1." and "1.0" stay text, since 1.05 may follow; on leaving they become the number.
 * @param {Event} event @param {boolean} done @returns {number | string | undefined}
 */
function readNumber(event, done) {
  const text = /** @type {HTMLInputElement} */ (event.target).value.trim().replace(",", ".");
  if (text === "") return undefined;
  const number = /^-?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : NaN;
  return Number.isFinite(number) && (done || String(number) === text) ? number : text;
}
