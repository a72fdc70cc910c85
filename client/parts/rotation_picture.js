// @ts-check
// Beds by years as a picture: a row for each bed, the newest year first, and in each field the family
// that stood there, by its letter and its hatching.
import { html, svg } from "../vendor/lit-html/lit-html.js";
import { standingIn, standsOf, yearsOf } from "../garden/series/rotation.js";
import { chart } from "./chart/chart.js";
import { hatched, hatches } from "./chart/hatch.js";
import { letter, letterOf } from "./chart/marks.js";
import { WIDTH } from "./chart/plot.js";
import { restFindings, rotationTable } from "./rotation_table.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../garden/series/rotation.js").Stand} Stand */

const ID = "rotation";
/** More years than these are in the table. */
const MOST_YEARS = 5;
const [LEFT, TOP, ROW] = [112, 24, 30];
const LONGEST_NAME = 15;
const HATCHES = 6;
/** Around a letter that stands on a hatching. */
const PLATE = 9;

/** @param {State} state */
export function rotationPicture(state) {
  const stands = standsOf(state.plantings, state.today);
  if (!stands.length) return html`<p class="soft">${state.say("screen.rotation.none")}</p>`;
  const years = yearsOf(stands).slice(0, MOST_YEARS);
  const beds = state.beds.filter(({ id }) =>
    years.some((year) => standingIn(stands, id, year).length),
  );
  const families = [...new Set(stands.map(({ planting }) => familyOf(state, planting)))].sort();
  const wide = (WIDTH - LEFT) / years.length;
  const against = new Set(
    restFindings(state)
      .filter((finding) => finding.state === "flagged")
      .map((finding) => finding.subject.planting),
  );
  const cell = (/** @type {string} */ bed, /** @type {number} */ at) => {
    const here = standingIn(stands, bed, years[at]);
    return here.map((one, nth) => ({
      ...one,
      x: LEFT + at * wide + (nth * wide) / here.length,
      wide: wide / here.length,
      isAgainst: one.first === years[at] && against.has(one.planting.id),
    }));
  };
  return chart(state, {
    id: ID,
    title: state.say("screen.rotation.picture"),
    line: state.say("screen.rotation.told", {
      beds_count: beds.length,
      first_year: years[years.length - 1],
      last_year: years[0],
      against: against.size,
    }),
    height: TOP + ROW * beds.length + 4,
    drawing: svg`${hatches(ID, HATCHES)}
      ${years.map((year, at) => svg`<text class="chart-words chart-mid" x=${LEFT + (at + 0.5) * wide} y="14">${year}</text>`)}
      ${beds.map(({ id }, row) => {
        const y = TOP + row * ROW;
        return svg`<text class="chart-words" x="0" y=${y + ROW / 2 + 4}>${short(state.say("screen.who.bed", { bed: id }))}</text>
          <line class="chart-grid" x1="0" x2=${WIDTH} y1=${y + ROW} y2=${y + ROW}></line>
          ${years.map((_, at) => cell(id, at).map((one) => field(one, y, families.indexOf(familyOf(state, one.planting)))))}`;
      })}`,
    signs: signs(state, families, against.size > 0),
    table: rotationTable(state),
  });
}

/** The crop's family, empty where nobody knows it. @param {State} state @param {Planting} planting */
function familyOf(state, { crop = "" }) {
  const own = state.settings.crops?.[crop]?.family;
  return own ?? state.rulebook.crops[crop]?.family ?? "";
}

/**
 * A field of one planting in one year: planned ones are broken off at the edge, those against a rest
 * have a heavy edge.
 * @param {Stand & {x: number, wide: number, isAgainst: boolean}} one @param {number} y
 * @param {number} family
 */
function field({ x, wide, isPlanned, isAgainst }, y, family) {
  const look = `chart-field${isPlanned ? " is-planned" : ""}${isAgainst ? " is-against" : ""}`;
  const middle = { x: x + wide / 2, y: y + ROW / 2 };
  return svg`<rect class=${look} fill=${hatched(ID, family)} x=${x + 2} y=${y + 3} width=${wide - 4} height=${ROW - 6}></rect>
    <circle class="chart-plate" cx=${middle.x} cy=${middle.y} r=${PLATE}></circle>
    ${letter(middle.x, middle.y, letterOf(family))}`;
}

/** @param {string} name */
const short = (name) =>
  name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME - 1).trimEnd()}…` : name;

/** @param {State} state @param {string[]} families @param {boolean} hasAgainst */
const signs = (state, families, hasAgainst) => [
  ...families.map((family, at) => ({
    sign: svg`<rect class="chart-field" fill=${hatched(ID, at)} x="1" y="1" width="28" height="14"></rect>
      <circle class="chart-plate" cx="15" cy="8" r="6.5"></circle>${letter(15, 8, letterOf(at))}`,
    words: family
      ? state.say("screen.rotation.family", { family })
      : state.say("screen.rotation.no_family"),
  })),
  {
    sign: svg`<rect class="chart-field is-planned" fill="none" x="2" y="2" width="26" height="12"></rect>`,
    words: state.say("screen.rotation.planned"),
  },
  ...(hasAgainst
    ? [
        {
          sign: svg`<rect class="chart-field is-against" fill="none" x="2" y="2" width="26" height="12"></rect>`,
          words: state.say("screen.rotation.against"),
        },
      ]
    : []),
];
