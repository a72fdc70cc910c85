// @ts-check
// Behind a fold: what asks for nothing. Figures of what goes well, and what is not known yet with
// what would tell.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { isUnknownWait } from "./withheld.js";
import { work } from "./work.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Finding} Finding */

/**
 * Whether a finding asks for nothing; a wait that is not known is never folded away.
 * @param {State} state @param {Finding} finding
 */
export const isFigure = (state, finding) =>
  finding.state === "noted" || (finding.state === "unknown" && !isUnknownWait(state, finding));

/**
 * Without what the bed itself already says, word for word, for a planting in it.
 * @param {Finding[]} findings
 */
export function onceEach(findings) {
  const said = (/** @type {Finding} */ { rule, subject, message }) =>
    JSON.stringify([rule, subject.bed, message.key, message.values]);
  const ofBeds = new Set(findings.filter(({ subject }) => !subject.planting).map(said));
  return findings.filter((finding) => !finding.subject.planting || !ofBeds.has(said(finding)));
}

/** @param {State} state @param {Actions} actions @param {Finding[]} findings */
export function figures(state, actions, findings) {
  const told = onceEach(findings).filter((finding) => isFigure(state, finding));
  if (!told.length) return nothing;
  const unknown = told.filter((finding) => finding.state === "unknown").length;
  const values = { count: told.length - unknown, unknown };
  return html`<details class="help">
    <summary>${state.say("screen.figures.title", values)}</summary>
    <ul class="work-list">
      ${repeat(
        told,
        (finding) => finding.key,
        (finding) => work(state, actions, finding, { full: true }),
      )}
    </ul>
  </details>`;
}
