// @ts-check
// The layer of what was found when scouting: one pest or disease, on one of the days it was looked
// for.
import { choiceOf } from "./telling.js";
import { levelOf } from "./plan_marks.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("./plan_layers.js").Layer} Layer */
/** @typedef {import("./plan_marks.js").Mark} Mark */

const COUNT_STEPS = [1, 1, 6, 21];
/** @type {Record<string, number>} */
const GRADE_LEVELS = { none: 0, few: 2, some: 3, many: 4 };

/** @param {State} state @param {Bed} bed */
const looks = (state, bed) =>
  state.look
    .events({ bed: bed.id, kind: "scout" })
    .filter(({ details }) => typeof details.organism === "string");

/** What was looked for in the bed, the latest first. @param {State} state @param {Bed} bed */
export const organismsIn = (state, bed) => [
  ...new Set(looks(state, bed).map(({ details }) => String(details.organism))),
];

/** The days on which it was, earliest first. @param {State} state @param {Bed} bed
 * @param {string} organism */
export const daysLooked = (state, bed, organism) => [
  ...new Set(
    looks(state, bed)
      .filter(({ details }) => details.organism === organism)
      .map(({ day }) => day)
      .reverse(),
  ),
];

/**
 * @param {State} state @param {Bed} bed @param {string} organism @param {number} day
 * @returns {Layer}
 */
export function foundLayer(state, bed, organism, day) {
  const that = looks(state, bed).filter(
    (event) => event.day === day && event.details.organism === organism,
  );
  /** Later entries of the day say more than earlier ones. @type {Map<string, Mark>} */
  const marks = new Map();
  for (const event of [...that].reverse()) {
    (event.plants ?? []).forEach((ordinal, at) => {
      const mark = markFrom(state, event, at);
      if (mark) marks.set(`${event.planting} ${ordinal}`, mark);
    });
  }
  const unnamed = that.filter(({ plants }) => !plants?.length).map((one) => toldOf(state, one));
  return {
    notes: unnamed,
    markOf: ({ planting, ordinal }) => marks.get(`${planting.id} ${ordinal}`),
  };
}

/**
 * What an entry says of the plant that it names at a place; undefined where it can't be told apart.
 * @param {State} state @param {LoggedEvent} event @param {number} at @returns {Mark | undefined}
 */
function markFrom(state, { plants = [], details }, at) {
  const { counts, count, grade, plants_affected: affected } = details;
  if (Array.isArray(counts) && counts.length === plants.length)
    return counted(state, Number(counts[at]));
  if (affected === 0) return counted(state, 0);
  const isAll = affected === plants.length || (affected === undefined && plants.length > 0);
  if (!isAll) return undefined;
  if (typeof count === "number" && plants.length === 1) return counted(state, count);
  if (typeof grade === "string" && grade in GRADE_LEVELS) {
    if (grade === "none") return counted(state, 0);
    const word = choiceOf(state, "scout", "grade", grade);
    return { level: GRADE_LEVELS[grade], figure: word.slice(0, 1), words: word };
  }
  if (affected === undefined) return undefined;
  return { level: 1, figure: "+", words: state.say("screen.layers.found_some") };
}

/** @param {State} state @param {number} count @returns {Mark} */
const counted = (state, count) =>
  count > 0
    ? {
        level: levelOf(count, COUNT_STEPS),
        figure: String(count),
        words: state.say("screen.layers.found_count", { count }),
      }
    : { level: 0, figure: "–", words: state.say("screen.layers.found_none") };

/** An entry that names no plant. @param {State} state @param {LoggedEvent} event */
function toldOf(state, { details }) {
  const { plants_looked: looked, plants_affected: affected, grade } = details;
  if (typeof looked === "number" && typeof affected === "number")
    return state.say("screen.layers.found_share", { looked, affected });
  return typeof grade === "string"
    ? state.say("screen.layers.found_grade", { told: choiceOf(state, "scout", "grade", grade) })
    : state.say("screen.layers.found_unnamed");
}
