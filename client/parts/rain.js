// @ts-check
// Rain in the gauge at one tap: what it held lately first, then usual amounts.
import { roundIn } from "../units.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toRecord } from "./paths.js";
import { press, pressLink } from "./press.js";
import { recentDetails } from "./recent.js";
import { gist, verbOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

const USUAL_MM = [2, 5, 10, 25];
const OFFERED = 4;
const OFFERED_LATELY = 2;

/** @param {State} state @param {Actions} actions */
export function rain(state, actions) {
  const depth = state.look.kind("rain")?.fields.find((field) => field.name === "depth_mm");
  if (!depth) return nothing;
  const told = (/** @type {number} */ depth_mm) => gist(state, "rain", { depth_mm });
  const lately = recentDetails(state, "rain", {}, OFFERED_LATELY, { isAlike: true })
    .map((details) => Number(details.depth_mm))
    .filter((amount) => amount > 0);
  const usual = USUAL_MM.map((amount) =>
    roundIn(state.preferences.units, depth.unit ?? "", amount),
  );
  const offered = new Map([...lately, ...usual].map((amount) => [told(amount), amount]));
  const verb = verbOf(state, "rain");
  return html`<section class="stack" aria-labelledby="rain">
    <h2 id="rain">${verb}</h2>
    <div class="presses presses-four">
      ${[...offered].slice(0, OFFERED).map(([words, depth_mm]) =>
        press(
          words,
          () => actions.record({ kind: "rain", details: { depth_mm } }),
          "press-field",
          state.say("screen.rain.name", { told: words, verb }),
        ),
      )}
    </div>
    <p>${pressLink(`${verb} …`, toRecord("rain"), "press-field press-quiet")}</p>
  </section>`;
}
