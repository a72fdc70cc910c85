// @ts-check
// What the log holds against work here, until when, and as known at what time. Never "safe".
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toFinding } from "./paths.js";
import { shortTime } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").Withheld} Withheld */

/**
 * Two answers: for the fruit, and for hands in the bed.
 * @param {State} state @param {Subjects} subject
 */
export function withheld(state, subject) {
  const hands = handsWithheld(state, subject);
  return html`<div class="stack">
    ${answer(state, "picking", state.look.withheld("pick", subject))}
    ${hands ? answer(state, "hand_work", hands) : nothing}
  </div>`;
}

/**
 * The answer for hands in the bed; picking has one of its own.
 * @param {State} state @param {Subjects} subject
 */
export function handsWithheld(state, subject) {
  const kind = state.rulebook.hand_work.find((one) => one !== "pick");
  return kind === undefined ? undefined : state.look.withheld(kind, subject);
}

/**
 * Does a treatment leave open how long to wait?
 * @param {State} state @param {Finding} finding
 */
export const isUnknownWait = (state, finding) =>
  finding.state === "unknown" && state.look.rule(finding.rule)?.shape === "withhold";

/**
 * Said above everything once the shed has not been heard for as long as the lead allows.
 * @param {State} state
 */
export function staleBand(state) {
  if (!state.look.isStale) return nothing;
  const words =
    state.knownAtMs === null
      ? state.say("screen.withheld.never_known")
      : state.say("screen.withheld.stale", { known_instant: state.knownAtMs / 1000 });
  return html`<div class="band band-unknown"><p class="band-words">${words}</p></div>`;
}

/**
 * What is not known about a job that would otherwise be done: undefined where nothing of the kind
 * is ever held back, or where the answer is another.
 * @param {State} state @param {Finding} finding @returns {Withheld | undefined}
 */
export function unknownWait(state, { settles, state: stands, subject }) {
  if (!settles || (stands !== "due" && stands !== "overdue")) return undefined;
  const { hand_work: handWork } = state.rulebook;
  if (settles.kind !== "pick" && !handWork.includes(settles.kind)) return undefined;
  const known = state.look.withheld(settles.kind, subject);
  return known.state === "unknown" ? known : undefined;
}

/**
 * A band that says what is not known, as known at what time.
 * @param {State} state @param {string} words @param {Withheld} known
 */
export const unknownBand = (state, words, known) =>
  html`<div class="band band-unknown">
    <p class="band-words">
      ${words} <span class="small">${asKnown(state, known)}</span>${why(state, known)}
    </p>
  </div>`;

/** @param {State} state @param {Withheld} known */
const asKnown = (state, known) =>
  known.known_at === null
    ? state.say("screen.withheld.never_known")
    : state.say("screen.withheld.as_known", { time: shortTime(state, known.known_at * 1000) });

/** @param {State} state @param {Withheld} known */
const why = (state, known) =>
  known.keys.length
    ? html` <a href=${toFinding(known.keys[0])}>${state.say("action.why")}</a>`
    : known.uncounted?.length
      ? html` <a href="#/attention">${state.say("screen.withheld.uncounted")}</a>`
      : nothing;

/** @param {State} state @param {"picking" | "hand_work"} what @param {Withheld} known */
function answer(state, what, known) {
  const words = state.say(`screen.withheld.${what}_${known.state}`, { until_instant: known.until });
  if (known.state === "none_known")
    return html`<p class="small">${words} <span class="soft">${asKnown(state, known)}</span></p>`;
  if (known.state === "unknown") return unknownBand(state, words, known);
  return html`<div class="band">
    <p class="band-words">
      ${words} <span class="small">${asKnown(state, known)}</span>${why(state, known)}
    </p>
  </div>`;
}
