// @ts-check
/**
 * Nights and days that are too cold or too hot for what stands out in them. What they are held
 * against is the row's `of`: fruit_set and the picking_gap that follows, frost tonight, tray_air
 * around seedlings. Twin of server/shedbook/rules/nights.py.
 */
import { frost } from "./frost.js";
import { fruitSet, pickingGap } from "./fruit_set.js";
import { trayAir } from "./tray_air.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

/** @type {Map<string, (context: Context, rule: Rule) => Finding[]>} */
const MODES = new Map([
  ["fruit_set", fruitSet],
  ["picking_gap", pickingGap],
  ["frost", frost],
  ["tray_air", trayAir],
]);

/** What the row's mode finds. @param {Context} context @param {Rule} rule */
export const nights = (context, rule) => MODES.get(rule.params.of)?.(context, rule) ?? [];
