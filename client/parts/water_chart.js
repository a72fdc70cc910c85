// @ts-check
// Waterings as strokes on a line of days, the gaps between them as lengths; the longest is hatched.
// The same as text and as a table for who can't see it.
import { html, svg } from "../vendor/lit-html/lit-html.js";
import { doneOf, gist } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("../types.js").Finding} Finding */

const DAY_S = 86_400;
const WIDTH = 360;
const LEFT = 6;
const BASE = 66;
const TALL = 46;

/**
 * Draws what the rule counted, and nothing else: the finding's own entries.
 * @param {State} state @param {Finding} finding @param {string} bed
 */
export function waterChart(state, finding, bed) {
  const days = Number(finding.message.values.window_days);
  const start = state.now - days * DAY_S;
  const waterings = finding.entries
    .flatMap((id) => state.look.event(id) ?? [])
    .sort((a, b) => a.instant - b.instant);
  if (!waterings.length || !(days > 0))
    return html`<p class="soft">${state.say("screen.chart.too_few")}</p>`;
  const name = state.say("screen.chart.name", { bed, span_days: days });
  const at = (/** @type {number} */ instant) =>
    LEFT + ((instant - start) / (state.now - start)) * (WIDTH - 2 * LEFT);
  const gaps = gapsOf(waterings, state.now);
  const longest = gaps.reduce((most, gap) => (gap.hours > most.hours ? gap : most));
  const most = Math.max(...waterings.map((event) => Number(event.details.volume_l) || 0));
  const id = `hatch-${bed}`;
  return html`<figure class="chart">
    <svg viewBox="0 0 ${WIDTH} 92" role="img" aria-label=${name}>
      <defs>
        <pattern
          id=${id}
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line class="chart-hatch" x1="0" y1="0" x2="0" y2="7"></line>
        </pattern>
      </defs>
      <rect
        fill="url(#${id})"
        class="chart-gap"
        x=${at(longest.from)}
        y=${BASE - TALL}
        width=${at(longest.to) - at(longest.from)}
        height=${TALL}
      ></rect>
      ${weeks(start, state.now, at)}
      <line class="chart-line" x1=${LEFT} x2=${WIDTH - LEFT} y1=${BASE} y2=${BASE}></line>
      ${waterings.map((event) => stroke(event, at(event.instant), most))}
      ${gapWords(state, longest, (at(longest.from) + at(longest.to)) / 2)}
      <text class="chart-words" x=${LEFT} y="86">
        ${state.say("screen.value.day", { at_day: Math.floor(start / DAY_S) })}
      </text>
      <text class="chart-words chart-end" x=${WIDTH - LEFT} y="86">
        ${state.say("screen.chart.now")}
      </text>
    </svg>
    <details class="help">
      <summary>${state.say("screen.chart.table")}</summary>
      <p>${state.say("screen.chart.key")}</p>
      ${table(state, waterings, gaps)}
    </details>
  </figure>`;
}

/** @typedef {{from: number, to: number, hours: number}} Gap */

/**
 * From each watering to the next; the last gap still runs.
 * @param {LoggedEvent[]} waterings
 * @param {number} now
 * @returns {Gap[]}
 */
const gapsOf = (waterings, now) =>
  waterings.map((event, at) => {
    const to = waterings[at + 1]?.instant ?? now;
    return { from: event.instant, to, hours: (to - event.instant) / 3600 };
  });

/**
 * A stroke as tall as its share of the largest volume; unknown volumes are short and open.
 * @param {LoggedEvent} event
 * @param {number} x
 * @param {number} most
 */
function stroke(event, x, most) {
  if (event.kind === "rain")
    return svg`<path class="chart-rain" d="M${x} ${
      BASE
    }v-14m-5 -10a5 5 0 1 0 10 0q0 -4 -5 -9q-5 5 -5 9z"></path>`;
  const litres = Number(event.details.volume_l) || 0;
  if (!litres || !most)
    return svg`<circle class="chart-open" cx=${x} cy=${BASE - 6} r="4"></circle>`;
  return svg`<line class="chart-stroke" x1=${x} x2=${x} y1=${BASE} y2=${
    BASE - 8 - (TALL - 8) * (litres / most)
  }></line>`;
}

/** @param {number} start @param {number} end @param {(instant: number) => number} at */
function weeks(start, end, at) {
  const ticks = [];
  for (let instant = end - 7 * DAY_S; instant > start; instant -= 7 * DAY_S)
    ticks.push(at(instant));
  return ticks.map(
    (x) => svg`<line class="chart-tick" x1=${x} x2=${x} y1=${BASE} y2=${BASE + 6}></line>`,
  );
}

/** @param {State} state @param {Gap} gap @param {number} x */
const gapWords = (
  state,
  gap,
  x,
) => svg`<text class="chart-words chart-mid" x=${Math.min(Math.max(x, 76), WIDTH - 76)} y="14">
  ${state.say("screen.chart.longest", { gap_days: gap.hours / 24 })}</text>`;

/** @param {State} state @param {LoggedEvent[]} waterings @param {Gap[]} gaps */
const table = (state, waterings, gaps) =>
  html`<div
    class="table-scroll"
    tabindex="0"
    role="group"
    aria-label=${state.say("screen.chart.table")}
  >
    <table>
      <thead>
        <tr>
          <th scope="col">${state.say("screen.chart.when")}</th>
          <th scope="col">${state.say("screen.chart.amount")}</th>
          <th scope="col">${state.say("screen.chart.gap")}</th>
        </tr>
      </thead>
      <tbody>
        ${waterings.map(
          (event, at) =>
            html`<tr>
              <td>${state.say("screen.value.moment", { at_instant: event.instant })}</td>
              <td>${doneOf(state, event.kind)} ${gist(state, event.kind, event.details)}</td>
              <td>${state.say("screen.chart.hours", { gap_hours: gaps[at].hours })}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
