// @ts-check
/**
 * The plants that stood next to one taken out for a pest or disease: look at them again.
 * Twin of server/shedbook/rules/near_removed.py.
 */
import { plantsPerRow } from "../log/layout.js";
import { dayFinding, keyPrefix, reason } from "./finding.js";
import {
  UNCOUNTED, compareTime, covers, days, findFor, livePlants, namedPlants, number,
} from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

const MOST_ROWS = 1000;

/**
 * One finding for each removal whose neighbours have not all been looked at since.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function nearRemoved(context, rule) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const live = livePlants(planting, context.today);
  if (live[0] === UNCOUNTED) return [];
  const looks = findFor(context, { kind: "scout" }, planting);
  return findFor(context, rule.params.anchor, planting).flatMap((removal) => {
    const removed = namedPlants(removal);
    if (!removed || context.declined.has(keyPrefix(context, rule) + removal.id)) return [];
    const near = beside(planting, removed, live);
    const left = notLookedAt(context, removal, looks, near);
    return left.length ? findingOf(context, rule, removal, removed, left) : [];
  });
}

/**
 * The plants before and behind it in its row, and in the same place of the rows beside.
 * @param {number} plant @param {number} count @param {number} rows
 */
export function neighboursOf(plant, count, rows) {
  const perRow = plantsPerRow(count, rows);
  const place = (plant - 1) % perRow;
  const near = [plant - perRow, plant + perRow];
  if (place > 0) near.push(plant - 1);
  if (place < perRow - 1) near.push(plant + 1);
  return near.filter((one) => one >= 1 && one <= count).sort((one, other) => one - other);
}

/** @param {Planting} planting @param {number[]} removed @param {number[]} live */
function beside(planting, removed, live) {
  const count = Math.floor(number(planting.plants) ?? 0);
  const rows = number(planting.rows);
  const whole = rows !== null && rows >= 1 && rows <= MOST_ROWS ? Math.floor(rows) : 1;
  const near = new Set(
    removed.filter((plant) => plant <= count)
      .flatMap((plant) => neighboursOf(plant, count, whole)),
  );
  return live.filter((plant) => near.has(plant));
}

/**
 * @param {Context} context @param {Event} removal @param {Event[]} looks @param {number[]} near
 */
function notLookedAt(context, removal, looks, near) {
  const later = looks.filter((event) => compareTime(event, removal) > 0);
  return near.filter((plant) => !later.some((event) => covers(context, event, plant)));
}

/**
 * @param {Context} context @param {Rule} rule @param {Event} removal @param {number[]} removed
 * @param {number[]} left
 */
function findingOf(context, rule, removal, removed, left) {
  const due = removal.day + days(context, rule, "due_after_days");
  const reasons = [
    reason("done.remove_plant", { done_day: removal.day }),
    reason("scouting.removed", {
      removed_plants: [...removed].sort((one, other) => one - other),
    }),
    reason("only_plants", { plants: left }),
  ];
  const made = dayFinding(context, rule, removal.id, due, reasons, [removal]);
  if (made === null) return [];
  made.subject.plants = left;
  return [made];
}
