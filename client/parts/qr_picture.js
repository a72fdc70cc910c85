// @ts-check
// A QR code as one drawing, dark on light whatever the look of the page.
import { svg } from "../vendor/lit-html/lit-html.js";
import { encodeQR } from "../vendor/qr/index.js";

// ISO/IEC 18004: four modules of bare paper on every side.
const QUIET_MODULES = 4;

/** @param {string} text */
export function qrPicture(text) {
  // A medium level mends 15 %: a tag gets splashed and scratched.
  const rows = encodeQR(text, "raw", { ecc: "medium", border: QUIET_MODULES });
  const dark = rows.flatMap((row, y) =>
    row.flatMap((isDark, x) => (isDark ? [`M${x} ${y}h1v1h-1z`] : [])),
  );
  return svg`<svg class="qr" viewBox="0 0 ${rows.length} ${rows.length}" aria-hidden="true"
    shape-rendering="crispEdges"><path d=${dark.join("")}></path></svg>`;
}
