// @ts-check
// Tags for beds, plantings and plants, on a sheet of labels of a common size.
import { codesOf } from "../garden/tagged.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { box } from "../parts/choosing.js";
import { local } from "../parts/local.js";
import { paperHead } from "../parts/paper_head.js";
import { plantNumbers } from "../parts/plant_numbers.js";
import { stepper } from "../parts/stepper.js";
import { SIZES, tagSheets } from "../parts/tag_sheet.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../garden/tagged.js").Tagged} Tagged */
/**
 * @typedef {object} Chosen
 * @property {keyof typeof SIZES} size
 * @property {number} skip
 * @property {string[]} beds
 * @property {string[]} plantings with a tag of their own
 * @property {Record<string, number[]>} plants by planting
 */
/** @typedef {(alter: (held: Chosen) => void) => void} Change */

/** @param {State} state */
export const view = (state) =>
  html`${paperHead(state, state.say("screen.tags.title"), {
    line: state.say("screen.tags.line"),
    note: state.say("screen.tags.note"),
  })}
  ${local("tags", start, (/** @type {Chosen} */ chosen, change) => drawn(state, chosen, change))}`;

/** @returns {Chosen} */
const start = () => ({ size: "a4_24", skip: 0, beds: [], plantings: [], plants: {} });

/** @param {State} state @param {Chosen} chosen @param {Change} change */
function drawn(state, chosen, change) {
  const tags = tagsOf(state, chosen);
  return html`<div class="stack-wide screen-only">
      ${sizes(state, chosen, change)} ${beds(state, chosen, change)}
      ${plantings(state, chosen, change)}
      <p aria-live="polite">${state.say("screen.tags.count", { count: tags.length })}</p>
    </div>
    ${tags.length ? tagSheets(state, tags, codesOf(state), chosen) : nothing}`;
}

/**
 * In the order of the walk, each bed before what stands in it.
 * @param {State} state @param {Chosen} chosen @returns {Tagged[]}
 */
function tagsOf(state, { beds: tagged, plantings: own, plants }) {
  const of = (/** @type {Planting} */ { id }) => [
    ...(own.includes(id) ? [{ planting: id }] : []),
    ...(plants[id] ?? []).map((plant) => ({ planting: id, plant })),
  ];
  const inBeds = state.beds.flatMap(({ id }) => [
    ...(tagged.includes(id) ? [{ bed: id }] : []),
    ...state.plantings.filter((planting) => planting.bed === id).flatMap(of),
  ]);
  return [...inBeds, ...state.plantings.filter((planting) => !planting.bed).flatMap(of)];
}

/** @param {State} state @param {Chosen} chosen @param {Change} change */
const sizes = (state, chosen, change) =>
  html`<fieldset class="field">
      <legend class="field-label">${state.say("screen.tags.size")}</legend>
      <div class="boxes">
        ${/** @type {(keyof typeof SIZES)[]} */ (Object.keys(SIZES)).map((size) =>
          box(
            "radio",
            `tags-${size}`,
            "tags-size",
            state.say(`screen.tags.size.${size}`),
            chosen.size === size,
            () =>
              change((held) => {
                held.size = size;
                held.skip = Math.min(held.skip, SIZES[size] - 1);
              }),
          ),
        )}
      </div>
    </fieldset>
    <div class="field">
      <label class="field-label" for="tags-skip">${state.say("screen.tags.skip")}</label>
      ${stepper(state, {
        id: "tags-skip",
        label: state.say("screen.tags.skip"),
        value: chosen.skip,
        step: 1,
        min: 0,
        whole: true,
        change: (value) =>
          change((held) => {
            held.skip = Math.min(Number(value) || 0, SIZES[held.size] - 1);
          }),
      })}
    </div>`;

/** @param {State} state @param {Chosen} chosen @param {Change} change */
const beds = (state, chosen, change) =>
  html`<fieldset class="field">
    <legend class="field-label">${state.say("screen.garden.beds")}</legend>
    <div class="boxes">
      ${state.beds.map(({ id }) =>
        box(
          "checkbox",
          `tags-${id}`,
          "tags-beds",
          state.say("screen.who.bed", { bed: id }),
          chosen.beds.includes(id),
          () =>
            change((held) => {
              held.beds = turned(held.beds, id);
            }),
        ),
      )}
    </div>
  </fieldset>`;

/** Those that stand, or are to. @param {State} state @param {Chosen} chosen @param {Change} change */
const plantings = (state, chosen, change) =>
  state.plantings
    .filter((planting) => planting.until_day === undefined)
    .map((planting) => {
      const { id } = planting;
      const isChosen = chosen.plantings.includes(id);
      const plants = chosen.plants[id] ?? [];
      return html`<details class="form-rest">
        <summary>
          ${state.say("screen.who.planting", { planting: id })}
          ${
            isChosen || plants.length
              ? html`&nbsp;(${state.say("screen.tags.count", { count: plants.length + Number(isChosen) })})`
              : nothing
          }
        </summary>
        <div class="form-rest-fields">
          ${box("checkbox", `tags-${id}`, "tags-plantings", state.say("screen.tags.planting"), isChosen, () =>
            change((held) => {
              held.plantings = turned(held.plantings, id);
            }),
          )}
          ${plantNumbers(state, planting, plants, (next) =>
            change((held) => {
              held.plants = { ...held.plants, [id]: next };
            }),
          )}
        </div>
      </details>`;
    });

/** @param {string[]} some @param {string} one */
const turned = (some, one) =>
  some.includes(one) ? some.filter((other) => other !== one) : [...some, one];
