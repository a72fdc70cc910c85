// @ts-check
/**
 * Whether someone has answered a finding: decided against it, or did what it asks for.
 * Twin of server/shedbook/rules/answered.py.
 */
import { keyPrefix } from "./finding.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Rule} Rule */

/**
 * Does any entry answer the rule's finding with this ordinal?
 * @param {Context} context @param {Rule} rule @param {string} ordinal
 */
export function isAnswered(context, rule, ordinal) {
  const known = /** @type {Set<string | undefined> | undefined} */ (context.known.get("answers"))
    ?? new Set(context.events.map((event) => event.answers));
  context.known.set("answers", known);
  return known.has(keyPrefix(context, rule) + ordinal);
}

/**
 * Was it decided against at this instant or later? A figure of a window comes up again.
 * @param {Context} context @param {Rule} rule @param {string} ordinal @param {number} instant
 */
export function isDeclinedSince(context, rule, ordinal, instant) {
  const declined = context.declined.get(keyPrefix(context, rule) + ordinal);
  return declined !== undefined && declined >= instant;
}
