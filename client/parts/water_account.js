// @ts-check
// What the root zone of a bed has lost over the last two weeks, against what it may lose; above it
// how much to give, in letters that can be read at arm's length. The same as a table.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";
import { messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").WaterLine} WaterLine */

const SHOWN_DAYS = 14;
const WIDTH = 360;
const HEIGHT = 110;
const [LEFT, TOP, BOTTOM] = [6, 22, 90];

/** @param {State} state @param {string} bed */
export function waterAccount(state, bed) {
  const lines = state.look.waterLines(bed)?.slice(-SHOWN_DAYS);
  if (!lines?.length) return nothing;
  return html`<section class="stack" aria-labelledby="bed-water-account">
    <h2 id="bed-water-account">${state.say("screen.water.title")}</h2>
    ${answer(state, bed)} ${chart(state, lines)}
  </section>`;
}

/**
 * Litres and minutes where water is due, else the sentence of the account.
 * @param {State} state @param {string} bed
 */
function answer(state, bed) {
  const finding = waterFinding(state, bed);
  if (!finding) return nothing;
  const { volume_l, duration_min } = finding.message.values;
  if (typeof volume_l !== "number") return html`<p>${messageOf(state, finding)}</p>`;
  return html`<p class="water-now">
    <strong>${state.say("screen.water.litres", { volume_l })}</strong>
    ${
      typeof duration_min === "number"
        ? html`<span>${state.say("screen.water.minutes", { duration_min })}</span>`
        : nothing
    }
  </p>`;
}

/**
 * What the water account of the bed says, too much water aside.
 * @param {State} state @param {string} bed @returns {Finding | undefined}
 */
export const waterFinding = (state, bed) =>
  state.look
    .findingsOf({ bed })
    .find(
      ({ rule, state: told }) =>
        told !== "flagged" && state.look.rule(rule)?.shape === "balance",
    );

/** @param {State} state @param {WaterLine[]} lines */
function chart(state, lines) {
  const deepest = Math.max(...lines.flatMap((line) => [line.dry_mm, line.raw_mm * 1.25]), 1);
  const last = lines[lines.length - 1];
  const step = (WIDTH - 2 * LEFT) / Math.max(lines.length - 1, 1);
  const x = (/** @type {number} */ at) => LEFT + at * step;
  const y = (/** @type {number} */ depth) => TOP + (depth / deepest) * (BOTTOM - TOP);
  const path = (/** @type {(line: WaterLine) => number} */ depth) =>
    lines.map((line, at) => `${at ? "L" : "M"}${x(at)} ${y(depth(line))}`).join("");
  const name = state.say("screen.water.chart", {
    depletion_mm: last.depletion_mm,
    raw_mm: last.raw_mm,
    shown_days: lines.length,
  });
  return html`<figure class="chart">
    <svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${name}>
      <line class="chart-line" x1=${LEFT} x2=${WIDTH - LEFT} y1=${TOP} y2=${TOP}></line>
      <path class="chart-limit" d=${path((line) => line.raw_mm)}></path>
      <path class="chart-end-of" d=${path((line) => line.dry_mm)}></path>
      <path class="chart-end-of" d=${path((line) => line.wet_mm)}></path>
      <path class="chart-course" d=${path((line) => line.depletion_mm)}></path>
      ${lines.map((line, at) => came(line, x(at)))}
      <text class="chart-words" x=${LEFT} y="106">
        ${state.say("screen.value.day", { at_day: lines[0].day })}
      </text>
      <text class="chart-words chart-end" x=${WIDTH - LEFT} y="106">
        ${state.say("screen.chart.now")}
      </text>
    </svg>
    <details class="help">
      <summary>${state.say("screen.chart.table")}</summary>
      <p>${state.say("screen.water.key")}</p>
      ${table(state, lines)}
    </details>
  </figure>`;
}

/**
 * Water given as a stroke on the line of full soil, rain as a drop; open where not measured.
 * @param {WaterLine} line @param {number} x
 */
function came(line, x) {
  if (!line.is_measured) return svg`<circle class="chart-open" cx=${x} cy="12" r="4"></circle>`;
  if (line.given_mm > 0)
    return svg`<line class="chart-stroke" x1=${x} x2=${x} y1=${TOP} y2="6"></line>`;
  if (line.rain_mm > 0)
    return svg`<path class="chart-rain" d="M${x - 4} 14a4 4 0 1 0 8 0q0 -3 -4 -8q-4 5 -4 8z"></path>`;
  return nothing;
}

/** @param {State} state @param {WaterLine[]} lines */
function table(state, lines) {
  const label = state.say("screen.chart.table");
  const mm = (/** @type {number} */ depth_mm) => state.say("screen.water.depth", { depth_mm });
  const columns = ["day", "gone", "may_go", "used", "rain", "given"];
  return html`<div class="table-scroll" tabindex="0" role="group" aria-label=${label}>
    <table>
      <thead>
        <tr>
          ${columns.map((name) => html`<th scope="col">${state.say(`screen.water.${name}`)}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${lines.map(
          (line) =>
            html`<tr>
              <td>${state.say("screen.value.day", { at_day: line.day })}</td>
              <td class="figure">${mm(line.depletion_mm)}</td>
              <td class="figure">${mm(line.raw_mm)}</td>
              <td class="figure">${mm(line.used_mm)}</td>
              <td class="figure">${mm(line.rain_mm)}</td>
              <td class="figure">
                ${line.is_measured ? mm(line.given_mm) : state.say("screen.water.unmeasured")}
              </td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
