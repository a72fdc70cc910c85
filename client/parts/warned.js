// @ts-check
// What speaks against work for the next hours without holding it back, such as wet leaves.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toFinding } from "./paths.js";
import { messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Subjects} Subjects */

/**
 * One band for each warning that runs here, of any kind of work or of this one.
 * @param {State} state @param {Subjects} subject @param {string} [kind]
 */
export function warned(state, subject, kind) {
  const here = state.look
    .findingsOf(subject)
    .filter(({ warns, until }) => warns && (until ?? 0) > state.now)
    .filter(({ warns }) => kind === undefined || warns?.includes(kind));
  // A bed and each planting in it say the same of the same rain.
  const rules = [...new Map(here.map((finding) => [finding.rule, finding])).values()];
  return rules.length
    ? html`<div class="stack">
        ${rules.map(
          (finding) =>
            html`<div class="band band-unknown">
              <p class="band-words">
                ${messageOf(state, finding)}
                <a href=${toFinding(finding.key)}>${state.say("action.why")}</a>
              </p>
            </div>`,
        )}
      </div>`
    : nothing;
}
