// @ts-check
// Corrections and take-backs as lines: what became of which entry, by whom and when.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toEntry } from "./paths.js";
import { doneOf, whereOf, writerOf } from "./telling.js";
import { instantOf } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Entry} Entry */

/**
 * @param {State} state @param {Entry[]} mendings newest first
 * @param {{linked?: boolean}} [how] with the way to the entry that each is about
 */
export function mendingLines(state, mendings, { linked = true } = {}) {
  if (!mendings.length) return html`<p class="soft">${state.say("screen.lines.none")}</p>`;
  return html`<ul class="lines">
    ${mendings.map(
      (one) => html`<li class="line">
        <span class="line-time" aria-hidden="true">${one.kind === "void" ? "×" : "→"}</span>
        <div>
          ${linked ? html`<p>${rootLink(state, one)}</p>` : nothing}
          <p class="small">
            ${state.say(`screen.entry.${one.kind}`, {
              who: writerOf(state, one),
              at_instant: instantOf(one.recorded_at),
            })}
            ${typeof one.details.reason === "string" ? one.details.reason : nothing}
          </p>
        </div>
      </li>`,
    )}
  </ul>`;
}

/** @param {State} state @param {Entry} mending */
function rootLink(state, mending) {
  const rootId = String(mending.details.entry);
  const root = state.look.entry(rootId);
  const told = root ? `${doneOf(state, root.kind)}: ${whereOf(state, root.subjects)}` : rootId;
  return html`<a class="line-link" href=${toEntry(rootId)}><b>${told}</b></a>`;
}
