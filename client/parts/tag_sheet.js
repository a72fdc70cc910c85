// @ts-check
// Sheets of tags: as many labels on each as the size has, with the places left out that are used up.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { keyOf } from "../garden/tagged.js";
import { spaced } from "../garden/tag_codes.js";
import { rowOf } from "../log/layout.js";
import { toTag } from "./paths.js";
import { qrPicture } from "./qr_picture.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../garden/tagged.js").Tagged} Tagged */

/** Labels on a sheet; their measures stand in tags.css under the same name. */
export const SIZES = /** @type {const} */ ({ a4_24: 24, letter_30: 30 });
/** @typedef {keyof typeof SIZES} Size */

/**
 * @param {State} state @param {Tagged[]} tags @param {Map<string, string>} codes
 * @param {{size: Size, skip: number}} how places to leave out on the first sheet
 */
export function tagSheets(state, tags, codes, { size, skip }) {
  const places = [...Array.from({ length: skip }, () => null), ...tags];
  const count = SIZES[size];
  const sheets = Array.from({ length: Math.ceil(places.length / count) }, (_, at) =>
    places.slice(at * count, (at + 1) * count),
  );
  return html`<div
    class="table-scroll tag-sheets"
    tabindex="0"
    role="group"
    aria-label=${state.say("screen.tags.preview")}
  >
    ${sheets.map(
      (some) =>
        html`<ol class="tag-sheet tag-sheet-${size.replace("_", "-")}">
          ${some.map((tagged) => html`<li class="tag">${tagged ? tag(state, tagged, codes) : nothing}</li>`)}
        </ol>`,
    )}
  </div>`;
}

/** @param {State} state @param {Tagged} tagged @param {Map<string, string>} codes */
function tag(state, tagged, codes) {
  const code = codes.get(keyOf(tagged)) ?? "";
  const [name, place] = wordsOf(state, tagged);
  return html`${qrPicture(`${location.origin}/${toTag(code)}`)}
    <div class="tag-words">
      <b class="tag-code">${spaced(code)}</b>
      <span class="tag-name">${name}</span>
      <span class="tag-place">${place}</span>
    </div>`;
}

/** Who it is, and where it stands. @param {State} state @param {Tagged} tagged */
function wordsOf(state, tagged) {
  if ("bed" in tagged) return [state.say("screen.who.bed", { bed: tagged.bed }), ""];
  const { planting: id, plant } = tagged;
  const planting = state.look.planting(id);
  const bed = planting?.bed ? state.say("screen.who.bed", { bed: planting.bed }) : "";
  const name = state.say("screen.who.planting", { planting: id });
  if (plant === undefined || !planting) return [name, bed];
  const row = rowOf(plant, Number(planting.plants), Number(planting.rows) || 1);
  return [name, state.say("screen.tags.place", { plant, row, where: bed })];
}
