// @ts-check
// The numbers of a chart as a table; it scrolls in its own box.
import { html } from "../../vendor/lit-html/lit-html.js";

/** @typedef {{words: unknown, isFigure?: boolean}} Head */

/**
 * @param {string} name
 * @param {readonly Head[]} heads
 * @param {readonly (readonly unknown[])[]} rows the first cell names its row
 */
export const table = (name, heads, rows) =>
  html`<div class="table-scroll" tabindex="0" role="group" aria-label=${name}>
    <table>
      <thead>
        <tr>
          ${heads.map(
            ({ words, isFigure }) =>
              html`<th scope="col" class=${isFigure ? "figure" : ""}>${words}</th>`,
          )}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          ([first, ...rest]) =>
            html`<tr>
              <th scope="row" class="when">${first}</th>
              ${rest.map(
                (cell, at) => html`<td class=${heads[at + 1].isFigure ? "figure" : ""}>${cell}</td>`,
              )}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
