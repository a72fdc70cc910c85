// @ts-check
// The few drawings on the bar: a path with stops, a written page, a roof, a phone.
import { svg, html } from "../vendor/lit-html/lit-html.js";

const DRAWINGS = {
  round: svg`<circle cx="6" cy="5" r="2.5"></circle><circle cx="18" cy="12" r="2.5"></circle>
    <circle cx="6" cy="19" r="2.5"></circle><path d="M8.5 6 15.7 10.7M15.7 13.4 8.5 18"></path>`,
  log: svg`<path d="M5 3h11l3 3v15H5zM8.5 9h7M8.5 13h7M8.5 17h4"></path>`,
  shed: svg`<path d="M3 11 12 4l9 7M5.5 9.5V20h13V9.5M10 20v-6h4v6"></path>`,
  phone: svg`<rect x="7" y="2.5" width="10" height="19" rx="1.5"></rect>
    <path d="M11 18.5h2"></path>`,
};

/** @param {keyof typeof DRAWINGS} name */
export const glyph = (name) =>
  html`<svg class="glyph" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
    ${DRAWINGS[name]}
  </svg>`;
