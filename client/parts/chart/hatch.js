// @ts-check
// Fillings that print in black and white: lines of several slants, dots, a grid.
import { svg } from "../../vendor/lit-html/lit-html.js";

const FORMS = [
  "M-2 2L2 -2M0 8L8 0M6 10L10 6",
  "M-2 6L2 10M0 0L8 8M6 -2L10 2",
  "M0 4H8",
  "M4 0V8",
  "M0 4H8M4 0V8",
  "M3 4h2M7 0h2M-1 0h2M7 8h2M-1 8h2",
];

/** The pattern's address. @param {string} chart its id @param {number} at */
export const hatched = (chart, at) => `url(#${chart}-hatch-${at % FORMS.length})`;

/** So many of the patterns, for the drawing of one chart. @param {string} chart @param {number} count */
export const hatches = (chart, count) => svg`<defs>
  ${FORMS.slice(0, count).map(
    (form, at) => svg`<pattern id=${`${chart}-hatch-${at}`} width="8" height="8" patternUnits="userSpaceOnUse">
      <path class="chart-hatch" d=${form}></path>
    </pattern>`,
  )}
</defs>`;
