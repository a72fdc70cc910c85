// @ts-check
// What may follow in a bed, least against it first, each crop with its reasons. Worked out only
// when the fold is opened: every crop of the rule book is tried.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { local } from "./local.js";
import { messageOf, titleOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Follower} Follower */

const SHOWN = 12;

/** @param {State} state @param {string} bed */
export const followers = (state, bed) =>
  local(
    `followers ${bed}`,
    () => ({ isOpen: false, isWhole: false }),
    (held, change) =>
      html`<section class="stack" aria-labelledby="bed-followers">
        <h2 id="bed-followers">${state.say("screen.followers.title")}</h2>
        <details
          class="help"
          ?open=${held.isOpen}
          @toggle=${(/** @type {Event} */ event) => {
            const { open } = /** @type {HTMLDetailsElement} */ (event.currentTarget);
            if (open !== held.isOpen)
              change((now) => {
                now.isOpen = open;
              });
          }}
        >
          <summary>${state.say("screen.followers.show")}</summary>
          ${
            held.isOpen
              ? ranking(state, bed, held.isWhole, () =>
                  change((now) => {
                    now.isWhole = true;
                  }),
                )
              : nothing
          }
        </details>
      </section>`,
  );

/** @param {State} state @param {string} bed @param {boolean} isWhole @param {() => void} showAll */
function ranking(state, bed, isWhole, showAll) {
  const found = state.look.followers(bed);
  if (!found) return nothing;
  const shown = isWhole ? found.ranked : found.ranked.slice(0, SHOWN);
  return html`<p>${state.say("screen.followers.line", { bed, start_day: found.day })}</p>
    <ol class="stack">
      ${shown.map((one) => html`<li>${follower(state, one)}</li>`)}
    </ol>
    ${
      shown.length < found.ranked.length
        ? html`<button type="button" class="press press-quiet" @click=${showAll}>
            ${state.say("screen.followers.all")}
          </button>`
        : nothing
    }
    <p class="soft small">${state.say("screen.followers.weights")}</p>`;
}

/** @param {State} state @param {Follower} one */
const follower = (state, { crop, cost, findings }) =>
  html`<strong>${state.sayIf(`crop.${crop}`) ?? crop}</strong>
    <span class="soft small">${state.say("screen.followers.points", { points: cost })}</span>
    ${
      findings.length
        ? reasons(state, findings)
        : html`<span class="soft small">${state.say("screen.followers.none_known")}</span>`
    }`;

/** @param {State} state @param {Finding[]} findings */
export const reasons = (state, findings) =>
  html`<ul class="small">
    ${findings.map(
      (finding) => html`<li>${titleOf(state, finding)}: ${messageOf(state, finding)}</li>`,
    )}
  </ul>`;
