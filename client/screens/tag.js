// @ts-check
// What a tag's link leads to: straight on to the bed, planting or plant, or why it can't.
import { readCode, spaced } from "../garden/tag_codes.js";
import { taggedBy } from "../garden/tagged.js";
import { html } from "../vendor/lit-html/lit-html.js";
import { toBed, toPlant, toPlanting } from "../parts/paths.js";
import { pressLink } from "../parts/press.js";
import { whereOf } from "../parts/telling.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../garden/tagged.js").Tagged} Tagged */

/** @param {State} state */
export function view(state) {
  const code = state.route.id;
  const read = readCode(code);
  if (!("body" in read)) return unread(state, state.say(`screen.scan.wrong.${read.wrong}`), code);
  const found = taggedBy(state, read.body);
  if (found.length === 0) {
    const garden = state.session?.garden.name ?? "";
    return unread(state, state.say("screen.tag.unknown", { code: spaced(code.toUpperCase()), garden }), code);
  }
  if (found.length > 1) return choice(state, found);
  goOn(found[0]);
  return title(state.say("screen.page.opening"));
}

/**
 * In place of the link, so that going back leads to where one came from. The screen is being drawn:
 * the address changes after that.
 * @param {Tagged} tagged
 */
function goOn(tagged) {
  const from = location.hash;
  queueMicrotask(() => {
    if (location.hash === from) location.replace(addressOf(tagged));
  });
}

/** @param {Tagged} tagged */
function addressOf(tagged) {
  if ("bed" in tagged) return toBed(tagged.bed);
  const { planting, plant } = tagged;
  return plant === undefined ? toPlanting(planting) : toPlant(planting, plant);
}

/** @param {State} state @param {string} why @param {string} code */
const unread = (state, why, code) =>
  html`${title(state.say("screen.tag.title"))}
    <p>${why}</p>
    <p>${pressLink(state.say("screen.tag.again"), `#/scan?code=${encodeURIComponent(code)}`, "press-field")}</p>`;

/** @param {State} state @param {Tagged[]} found */
const choice = (state, found) =>
  html`${title(state.say("screen.tag.title"), { line: state.say("screen.tag.several") })}
    <ul class="go-list">
      ${found.map((tagged) => {
        const subject = "bed" in tagged
          ? { bed: tagged.bed }
          : { planting: tagged.planting, plants: tagged.plant === undefined ? undefined : [tagged.plant] };
        return html`<li><a href=${addressOf(tagged)}>${whereOf(state, subject)}</a></li>`;
      })}
    </ul>`;
