// @ts-check
// What the log holds against work here, until when, and as known at what time. Never "safe".
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toFinding } from "./paths.js";
import { shortTime } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").Withheld} Withheld */

/**
 * Two answers: for the fruit, and for hands in the bed.
 * @param {State} state @param {Subjects} subject
 */
export function withheld(state, subject) {
  const hands = state.rulebook.hand_work.find((kind) => kind !== "pick");
  return html`<div class="stack">
    ${answer(state, "picking", state.look.withheld("pick", subject))}
    ${hands ? answer(state, "hand_work", state.look.withheld(hands, subject)) : nothing}
  </div>`;
}

/** @param {State} state @param {"picking" | "hand_work"} what @param {Withheld} known */
function answer(state, what, known) {
  const words = state.say(`screen.withheld.${what}_${known.state}`, { until_instant: known.until });
  const asKnown =
    known.known_at === null
      ? state.say("screen.withheld.never_known")
      : state.say("screen.withheld.as_known", { time: shortTime(state, known.known_at * 1000) });
  const reason = known.keys.length
    ? html` <a href=${toFinding(known.keys[0])}>${state.say("action.why")}</a>`
    : nothing;
  if (known.state === "none_known")
    return html`<p class="small">${words} <span class="soft">${asKnown}</span></p>`;
  return html`<div class="band ${known.state === "unknown" ? "band-unknown" : ""}">
    <p class="band-words">${words} <span class="small">${asKnown}</span>${reason}</p>
  </div>`;
}
