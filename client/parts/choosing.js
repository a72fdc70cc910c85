// @ts-check
// Choosing instead of typing: boxes to tap, a list to open, a day of the year.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { two } from "../zone.js";
import { choiceOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").FieldDescription} FieldDescription */
/** @typedef {import("./field.js").Filled} Filled */

/** More than nine choices are a list to open. @param {FieldDescription} about */
export const isLong = (about) => (about.choices?.length ?? 0) > 9;

/**
 * A large box to tap: a radio or a checkbox inside its label. A radio that may be left open is let
 * go by tapping it again.
 * @param {"radio" | "checkbox"} type @param {string} id @param {string} name
 * @param {unknown} words @param {boolean} checked @param {() => void} change
 * @param {() => void} [letGo]
 */
export const box = (type, id, name, words, checked, change, letGo) =>
  html`<label class="box">
    <input
      type=${type}
      id=${id}
      name=${name}
      .checked=${checked}
      @change=${change}
      @click=${() => checked && letGo?.()}
    /><span>${words}</span>
  </label>`;

/** @param {State} state @param {Filled & {id: string}} filled */
export const chooseOne = (state, { kind, field: about, value, id, change }) =>
  html`<div class="boxes">
    ${(about.choices ?? []).map((choice, at) =>
      box(
        "radio",
        at === 0 ? id : `${id}-${at}`,
        id,
        choiceOf(state, kind, about.name, choice),
        value === choice,
        () => change(choice),
        about.required ? undefined : () => change(undefined),
      ),
    )}
  </div>`;

/** @param {State} state @param {Filled & {id: string}} filled */
export const chooseFlag = (state, { value, id, change }) =>
  html`<div class="boxes">
    ${[true, false].map((flag) =>
      box(
        "radio",
        flag ? id : `${id}-no`,
        id,
        state.say("screen.value.yes_no", { flag }),
        value === flag,
        () => change(flag),
      ),
    )}
  </div>`;

/** @param {State} state @param {Filled & {id: string}} filled */
export function chooseFromList(state, { kind, field: about, value, id, wrong, change }) {
  const options =
    about.name === "crop"
      ? cropsOf(state)
      : (about.choices ?? []).map((choice) => ({
          id: choice,
          words: choiceOf(state, kind, about.name, choice),
        }));
  return html`<select
    id=${id}
    class="text-input"
    aria-describedby=${wrong.length ? `${id}-wrong` : nothing}
    @change=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
  >
    <option value="" ?selected=${value === undefined}>${state.say("screen.form.choose")}</option>
    ${options.map(
      (option) =>
        html`<option value=${option.id} ?selected=${value === option.id}>${option.words}</option>`,
    )}
  </select>`;
}

/** @param {State} state @param {Filled & {id: string}} filled */
export function chooseBeds(state, { value, id, change }) {
  const chosen = Array.isArray(value) ? value.map(String) : [];
  if (!state.beds.length) return html`<p class="soft">${state.say("screen.form.no_beds")}</p>`;
  return html`<div class="boxes">
    ${state.beds.map((bed, at) =>
      box(
        "checkbox",
        at === 0 ? id : `${id}-${at}`,
        id,
        state.say("screen.who.bed", { bed: bed.id }),
        chosen.includes(bed.id),
        () =>
          change(
            chosen.includes(bed.id)
              ? chosen.filter((other) => other !== bed.id)
              : [...chosen, bed.id],
          ),
      ),
    )}
  </div>`;
}

/**
 * A day of the year as month and day.
 * @param {State} state @param {string} value @param {(value: unknown) => void} change
 * @param {string} id @param {string | undefined} describedBy
 */
export function monthDay(state, value, change, id, describedBy) {
  const [month = "", day = ""] = value.split("-");
  const set = (/** @type {string} */ nextMonth, /** @type {string} */ nextDay) =>
    change(nextMonth ? `${nextMonth}-${nextDay || "01"}` : undefined);
  const twelve = Array.from({ length: 12 }, (_, at) => at + 1);
  return html`<div class="row">
    <select
      id=${id}
      class="text-input month"
      aria-describedby=${describedBy ?? nothing}
      @change=${(/** @type {Event} */ event) => set(textOf(event), day)}
    >
      <option value="" ?selected=${month === ""}>${state.say("screen.form.choose")}</option>
      ${twelve.map(
        (at) =>
          html`<option value=${two(at)} ?selected=${two(at) === month}>
            ${state.say(`date.month.${at}`)}
          </option>`,
      )}
    </select>
    <select
      class="text-input month"
      aria-label=${state.say("screen.form.day")}
      ?disabled=${month === ""}
      @change=${(/** @type {Event} */ event) => set(month, textOf(event))}
    >
      ${Array.from(
        { length: 31 },
        (_, at) =>
          html`<option value=${two(at + 1)} ?selected=${two(at + 1) === day}>${at + 1}</option>`,
      )}
    </select>
  </div>`;
}

/** A crop is chosen among those that the rulebook and the garden know. @param {State} state */
const cropsOf = (state) =>
  [...Object.keys(state.rulebook.crops), ...Object.keys(state.settings.crops ?? {})]
    .map((id) => ({ id, words: state.say("screen.value.crop", { crop: id }) }))
    .sort((a, b) => a.words.localeCompare(b.words, state.language));

/** @param {Event} event */
export const textOf = (event) =>
  /** @type {HTMLInputElement | HTMLTextAreaElement} */ (event.target).value;
