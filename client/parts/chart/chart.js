// @ts-check
// A chart: what it is, what it says in one sentence, the drawing, what its signs mean, and the same
// numbers as a table behind a fold.
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { WIDTH } from "./plot.js";

/** @typedef {import("../../types.js").State} State */
/** @typedef {{sign: unknown, words: unknown}} Sign drawn in a box of 30 by 16 */
/**
 * @typedef {object} Shown
 * @property {string} id unlike any other on the page
 * @property {string} title
 * @property {string} line one sentence that says what the drawing shows
 * @property {number} height
 * @property {unknown} drawing
 * @property {readonly Sign[]} signs
 * @property {unknown} table
 * @property {unknown} [note] what to keep in mind when reading it
 */

/** @param {State} state @param {Shown} shown */
export const chart = (state, { id, title, line, height, drawing, signs, table, note = nothing }) =>
  html`<figure class="chart" aria-labelledby=${`${id}-title`}>
    <figcaption>
      <p class="chart-title" id=${`${id}-title`}>${title}</p>
      <p class="small" id=${`${id}-line`}>${line}</p>
    </figcaption>
    <svg
      viewBox="0 0 ${WIDTH} ${height}"
      role="img"
      aria-label=${title}
      aria-describedby=${`${id}-line`}
    >
      ${drawing}
    </svg>
    ${
      signs.length
        ? html`<ul class="chart-key small">
            ${signs.map(
              ({ sign, words }) =>
                html`<li>
                  <svg viewBox="0 0 30 16" aria-hidden="true">${sign}</svg><span>${words}</span>
                </li>`,
            )}
          </ul>`
        : nothing
    }
    ${note === nothing ? nothing : html`<p class="soft small">${note}</p>`}
    <details class="help">
      <summary>${state.say("screen.chart.table")}</summary>
      ${table}
    </details>
  </figure>`;
