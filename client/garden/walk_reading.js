// @ts-check
// What a scouting walk says so far: the entries that it will be, its figures, and the answer of the
// very rule that will read those entries in the log.
import { wilsonInterval } from "../agronomy/proportion.js";
import { contextOf } from "../rules/match.js";
import { plantLimit } from "../rules/organisms.js";
import { scouting } from "../rules/scouting.js";
import { isWritten } from "./walk_written.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Walk} Walk */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../rules/match.js").Rule} Rule */
/** @typedef {"above" | "below" | "open" | "no_plan" | "no_limit" | "told"} Answer
 *   `told`: what the finding says is not about a threshold */

/** A find without a number is told by one of these, from so many on. @type {Record<string, number>} */
export const GRADE_FLOORS = { few: 1, some: 6, many: 21 };

/** @param {Walk} walk */
export const seenIn = (walk) => walk.taps.filter((tap) => tap.found !== null);

/** @param {import("../types.js").WalkTap} tap */
export const isFound = (tap) => Boolean(tap.found);

/** The next plant to look at; undefined at the end. @param {Walk} walk */
export const nextPlant = (walk) => walk.order[walk.taps.length];

/** What is known of the organism's threshold here. @param {State} state @param {Planting} planting
 * @param {string} organism */
export function limitOn(state, planting, organism) {
  const context = contextFor(state, planting, []);
  return context ? plantLimit(context, planting, organism) : undefined;
}

/**
 * @param {State} state @param {Planting} planting
 * @param {import("../types.js").LoggedEvent[]} more
 */
function contextFor(state, planting, more) {
  const view = state.look.view({ planting: planting.id });
  if (!view) return undefined;
  const events = [...view.events, ...more];
  return contextOf({ ...view, events }, state.rulebook, state.today, state.now);
}

/**
 * The details of the entries: clean plants in one, those with a find in one for each grade. Each
 * names its plants, so that the rules know them one by one.
 * @param {Walk} walk
 * @returns {{plants: number[], details: import("../types.js").Details}[]} clean plants first
 */
export function entriesOf(walk) {
  const seen = seenIn(walk);
  const grades = walk.by === "count" ? [undefined] : Object.keys(GRADE_FLOORS);
  const clean = seen.filter((tap) => !isFound(tap));
  const found = grades.map((grade) => seen.filter((tap) => isFound(tap) && tap.grade === grade));
  return [clean, ...found]
    .filter((taps) => taps.length)
    .map((taps) => {
      const inOrder = [...taps].sort((a, b) => a.plant - b.plant);
      const plants = inOrder.map(({ plant }) => plant);
      const told =
        walk.by === "count"
          ? { counts: inOrder.map(({ found: count }) => count), per: walk.per }
          : { grade: taps[0].grade ?? "none" };
      const affected = isFound(taps[0]) ? taps.length : 0;
      const share = { plants_looked: taps.length, plants_affected: affected };
      return { plants, details: { organism: walk.organism, ...share, ...told } };
    });
}

/**
 * What the rule would say if the walk were written down now.
 * @param {State} state @param {Walk} walk @param {Planting} planting
 * @returns {Finding | undefined}
 */
export function findingOf(state, walk, planting) {
  const more = isWritten(state, walk) ? [] : entriesOf(walk);
  const events = more.map(({ plants, details }, at) => ({
    id: `walk-${at}`, kind: "scout", day: state.today, hour: 0, minute: 0, instant: state.now,
    order: `walk-${at}`, bed: planting.bed, planting: planting.id, plants, details,
  }));
  const context = contextFor(state, planting, events);
  const rules = /** @type {Rule[]} */ (/** @type {unknown} */ (state.rulebook.rules));
  const rule = rules.find(({ id }) => id === "scouting");
  if (!context || !rule) return undefined;
  const told = scouting(context, rule).find(({ message }) =>
    message.values.organism === walk.organism);
  return told && { ...told, key: state.look.finding(told.key)?.key ?? told.key };
}

/**
 * Where a finding leaves the walk. Only a share has stop lines; a count is held against its
 * threshold at the end.
 * @param {Finding | undefined} finding
 * @returns {Answer}
 */
export function answerFrom(finding) {
  const key = finding?.message.key ?? "";
  if (key.endsWith(".share_above")) return "above";
  if (key.endsWith(".share_below")) return "below";
  if (key.endsWith(".share_open")) return "open";
  if (/\.(mean|rare)_|\.no_count$|\.other_unit$/.test(key)) return "no_plan";
  return /\.(no_limit|none_found|none_told)$/.test(key) ? "no_limit" : "told";
}

/**
 * Is the answer plain, from all over the bed? Before the first lap is done only a part was seen.
 * @param {Walk} walk @param {Answer} answer
 */
export const isClear = (walk, answer) =>
  (answer === "above" || answer === "below") && walk.taps.length >= walk.lap;

/**
 * The share with its interval, and the mean count; `isAtLeast` where grades give its floor alone.
 * @param {Walk} walk
 */
export function figuresOf(walk) {
  const seen = seenIn(walk);
  const looked = seen.length;
  if (!looked) return undefined;
  const affected = seen.filter(isFound).length;
  const { low, high } = wilsonInterval(affected, looked);
  const total = seen.reduce((sum, tap) => sum + Number(tap.found), 0);
  return {
    looked, affected, affected_share: affected / looked, low_share: low, high_share: high,
    mean: total / looked, isAtLeast: walk.by === "grade" && affected > 0,
  };
}
