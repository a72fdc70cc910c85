// @ts-check
/**
 * Shares of each day that add up toward something that is to come, by the day's temperature.
 * What adds up, and toward what, is the row's `of`: emergence and stand by a table of soil
 * temperatures, degree_days toward published sums, first_pick toward the first fruit of a planting.
 * Twin of server/shedbook/rules/progress.py.
 */
import { comingUp, stand } from "./coming_up.js";
import { firstPick } from "./first_pick.js";
import { milestones } from "./milestones.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

/** @type {Map<string, (context: Context, rule: Rule) => Finding[]>} */
const MODES = new Map([
  ["emergence", comingUp],
  ["stand", stand],
  ["degree_days", milestones],
  ["first_pick", firstPick],
]);

/** What the row's mode finds. @param {Context} context @param {Rule} rule */
export const progress = (context, rule) => MODES.get(rule.params.of)?.(context, rule) ?? [];
