// @ts-check
// A finding as a piece of work: what, for whom, how late, and one button that writes it down.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toFinding, toRecord } from "./paths.js";
import { press, pressLink } from "./press.js";
import { messageOf, titleOf, verbOf, whenOf, whereOf, whoOf } from "./telling.js";
import { unknownBand, unknownWait } from "./withheld.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Finding} Finding */

/**
 * @param {State} state @param {Actions} actions @param {Finding} finding
 * @param {{where?: boolean, full?: boolean}} [how] with the bed in front; with the whole message
 */
export function work(state, actions, finding, how = {}) {
  // In its own bed's list, what concerns the whole bed needs no name.
  const notKnown = unknownWait(state, finding);
  const who = how.where ? whereOf(state, finding.subject) : whoOf(state, finding.subject);
  return html`<li class="work marked marked-${finding.state}">
    <div>
      <p class="work-title"><a href=${toFinding(finding.key)}>${titleOf(state, finding)}</a></p>
      ${how.where || finding.subject.planting ? html`<p class="work-for">${who}</p>` : nothing}
      ${
        finding.state === "blocked"
          ? nothing
          : html`<p class="work-when state-words">${whenOf(state, finding)}</p>`
      }
      ${
        how.full || (finding.closes === null && finding.state !== "blocked")
          ? html`<p class="small">${messageOf(state, finding)}</p>`
          : nothing
      }
    </div>
    ${settleButton(state, actions, finding)}
    ${notKnown ? unknownBand(state, state.say("screen.work.not_known"), notKnown) : nothing}
    ${
      finding.state === "blocked"
        ? html`<p class="band"><span class="band-words">${whenOf(state, finding)}</span></p>`
        : nothing
    }
  </li>`;
}

/** @param {State} state @param {Actions} actions @param {Finding} finding */
export function settleButton(state, actions, finding) {
  const settles = finding.settles;
  // Deciding against something asks for a reason, which the finding's own screen takes.
  if (
    !settles ||
    settles.kind === "decline" ||
    finding.state === "upcoming" ||
    finding.state === "noted"
  )
    return nothing;
  const verb = verbOf(state, settles.kind);
  const name = state.say("screen.work.settle", {
    verb,
    title: titleOf(state, finding),
    who: whereOf(state, finding.subject),
  });
  // In ink only what nothing is known to hold back.
  const isPlain = finding.state === "blocked" || unknownWait(state, finding) !== undefined;
  const look = `${isPlain ? "" : "press-ink "}press-field work-press`;
  if (finding.state === "blocked" || !isComplete(actions, finding))
    return pressLink(
      `${verb} …`,
      toRecord(settles.kind, finding.subject, { answers: finding.key }),
      look,
      name,
    );
  return press(verb, () => actions.settle(finding), look, name);
}

/**
 * Can one tap write it down, or has the form something to ask first?
 * @param {Actions} actions @param {Finding} finding
 */
function isComplete(actions, finding) {
  const settles = finding.settles;
  if (!settles) return false;
  const { problems, remarks } = actions.check({
    kind: settles.kind,
    subjects: finding.subject,
    details: settles.details,
    answers: finding.key,
  });
  return Object.keys(problems).length === 0 && Object.keys(remarks).length === 0;
}
