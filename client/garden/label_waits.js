// @ts-check
// How long an entry held work back by its label, also when that is long over: for a record on paper.
import { labelSpan } from "../rules/span.js";

/** @typedef {import("../types.js").LabelWait} LabelWait */

/**
 * @param {import("./standing.js").Standing} standing
 * @param {number} now
 * @param {import("../types.js").LoggedEvent} event
 * @returns {LabelWait[]}
 */
export function labelWaits({ rules }, now, event) {
  return [...rules.values()].flatMap((row) => {
    if (row.shape !== "withhold") return [];
    const rule = /** @type {import("../rules/match.js").Rule} */ (/** @type {unknown} */ (row));
    const span = labelSpan({ now }, rule, event);
    return span ? [{ field: rule.params.span.field, until: span.until }] : [];
  });
}
