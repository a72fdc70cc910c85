// @ts-check
/**
 * The air of the days that are over, so told that a later look back tells the same of them.
 *
 * A gap between two readings is drawn as ever. After the last reading nothing is held: what counts
 * there would be taken back as soon as the gap grew too long.
 * Twin of server/shedbook/rules/past_air.py.
 */
import { FILL_DAYS, dailyAir } from "./daily.js";

/**
 * Low and high of each day from the first to yesterday, around the view's planting.
 * @param {import("./match.js").Context} context @param {number} firstDay
 */
export function pastAir(context, firstDay) {
  const yesterday = context.today - 1;
  if (firstDay > yesterday) return [];
  // Asked for so far ahead, the gap after the last reading is always too long to be held.
  const air = dailyAir(context, context.view.planting, firstDay, yesterday + FILL_DAYS + 1);
  return air.slice(0, yesterday - firstDay + 1);
}
