// @ts-check
// What a scouting walk says while it goes on and at its end: share, count, threshold, hot spot.
import { answerFrom, figuresOf, isClear, seenIn } from "../garden/walk_reading.js";
import { hotSpot } from "../garden/walk_spots.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Walk} Walk */

/**
 * @param {State} state @param {Walk} walk @param {Planting} planting
 * @param {Finding | undefined} finding
 */
export const running = (state, walk, planting, finding) =>
  html`<section class="stack" aria-labelledby="walk-told">
    <h2 id="walk-told">${state.say("screen.scout_walk.told")}</h2>
    <div class="stack" aria-live="polite">
      ${figures(state, walk, planting)} ${verdict(state, walk, finding)}
      ${spotWords(state, walk, planting)}
    </div>
    ${finding ? why(state, finding) : nothing}
  </section>`;

/** @param {State} state @param {Walk} walk @param {Planting} planting */
export function figures(state, walk, planting) {
  const told = figuresOf(walk);
  if (!told) return html`<p class="soft">${state.say("screen.scout_walk.nothing_yet")}</p>`;
  const isAll = told.looked >= state.look.livePlants(planting).length;
  const key = told.affected ? (isAll ? "share_all" : "share") : isAll ? "none_all" : "none";
  return html`<p class="walk-figures">${state.say(`screen.scout_walk.${key}`, told)}</p>
    ${
      told.affected
        ? html`<p>
            ${state.say(told.isAtLeast ? "screen.scout_walk.at_least" : "screen.scout_walk.mean", {
              mean: told.mean,
              per_what: walk.per,
            })}
          </p>`
        : nothing
    }`;
}

/** @param {State} state @param {Walk} walk @param {Finding | undefined} finding */
export function verdict(state, walk, finding) {
  if (!finding || !seenIn(walk).length) return nothing;
  const answer = answerFrom(finding);
  if (answer === "told") return html`<p class="walk-verdict">${messageOf(state, finding)}</p>`;
  const isEarly = (answer === "above" || answer === "below") && !isClear(walk, answer);
  const more = walk.lap - walk.taps.length;
  const words = isEarly
    ? state.say("screen.scout_walk.lap_first", { more })
    : state.say(`screen.scout_walk.answer_${answer}`);
  return html`<p class="walk-verdict">${words}</p>
    ${answer === "no_limit" ? nothing : html`<p>${messageOf(state, finding)}</p>`}`;
}

/** @param {State} state @param {Walk} walk @param {Planting} planting */
export function spotWords(state, walk, planting) {
  const bed = planting.bed ? state.look.bed(planting.bed) : undefined;
  const spot = hotSpot(walk, planting, bed);
  if (!spot) return nothing;
  return html`<p><b>${state.say(`screen.scout_walk.spot_${spot.key}`, spot.values)}</b></p>`;
}

/** The rule's own arithmetic. @param {State} state @param {Finding} finding */
const why = (state, { reasons }) =>
  html`<details class="help">
    <summary>${state.say("screen.scout_walk.why")}</summary>
    <ul class="stack small">
      ${reasons.map(({ key, values }) => html`<li>${state.say(`reason.${key}`, values)}</li>`)}
    </ul>
  </details>`;
