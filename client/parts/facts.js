// @ts-check
// The details of an entry as a list of names and values; what this version doesn't know is shown as
// it was written.
import { html } from "../vendor/lit-html/lit-html.js";
import { labelOf, valueOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */

/** @param {State} state @param {string} kind @param {Record<string, unknown>} details */
export function facts(state, kind, details) {
  const fields = state.look.kind(kind)?.fields ?? [];
  const known = fields.filter((field) => details[field.name] !== undefined);
  const unknown = Object.keys(details).filter(
    (name) => !fields.some((field) => field.name === name),
  );
  if (!known.length && !unknown.length)
    return html`<p class="soft">${state.say("screen.entry.no_details")}</p>`;
  return html`<dl class="facts">
    ${known.map(
      (field) =>
        html`<dt>${labelOf(state, kind, field.name)}</dt>
          <dd>${valueOf(state, kind, field, details[field.name])}</dd>`,
    )}
    ${unknown.map(
      (name) =>
        html`<dt>${state.sayIf(`field.${name}`) ?? name}</dt>
          <dd>${valueOf(state, kind, undefined, details[name])}</dd>`,
    )}
  </dl>`;
}
