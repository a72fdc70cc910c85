// @ts-check
// A bed's water account for a screen to draw: the same that the rule counts with.
import { viewOfBed } from "../log/view.js";
import { applies, contextOf } from "../rules/match.js";
import { accountOf } from "../rules/water_account.js";

/** @typedef {import("../rules/match.js").Rule} Rule */

/**
 * The lines of the account up to now; undefined where none can be kept.
 * @param {import("./standing.js").Standing} standing
 * @param {string} bed
 * @param {{today: number, now: number}} present
 * @returns {import("../types.js").WaterLine[] | undefined}
 */
export function waterLinesOf({ ledger, rulebook }, bed, { today, now }) {
  const view = viewOfBed(ledger, bed);
  if (view === null) return undefined;
  const context = contextOf(view, rulebook, today, now);
  const rules = /** @type {Rule[]} */ (/** @type {unknown} */ (rulebook.rules));
  for (const rule of rules) {
    if (rule.shape !== "balance" || !applies(context, rule)) continue;
    const account = accountOf(context, rule);
    if (account !== null && "lines" in account) return account.lines;
  }
  return undefined;
}
