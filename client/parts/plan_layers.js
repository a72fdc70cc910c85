// @ts-check
// What the plan can show of each plant beside where it stands: what was found on it, how long ago
// it had water or feed, what was picked from it, and which plants were taken out.
import { choiceOf } from "./telling.js";
import { levelOf } from "./plan_marks.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("./plan_marks.js").MarkOf} MarkOf */
/** @typedef {import("./plan_marks.js").Mark} Mark */
/** @typedef {"plants" | "found" | "water" | "feed" | "pick" | "gone"} LayerName */
/** @typedef {{markOf: MarkOf, notes: string[]}} Layer `notes`: what no plant can carry */

export const LAYERS = /** @type {const} */ (["plants", "found", "water", "feed", "pick", "gone"]);

const DAY_STEPS = [1, 3, 7, 14];
const FRUIT_STEPS = [1, 5, 15, 40];

/**
 * Does an event tell of this plant: by naming it, or by naming its whole planting or bed?
 * @param {LoggedEvent} event @param {Planting} planting @param {number} ordinal
 */
export const isOf = (event, planting, ordinal) =>
  (event.planting === undefined || event.planting === planting.id) &&
  (!event.plants?.length || event.plants.includes(ordinal));

/** @param {State} state @param {Bed} bed @param {"water" | "feed" | "pick"} name @returns {Layer} */
export function layerOf(state, bed, name) {
  const events = state.look.events({ bed: bed.id, kind: name }).filter((one) => !one.lifted);
  return name === "pick" ? picks(state, events) : daysSince(state, name, events);
}

/**
 * Days since the last water or feed.
 * @param {State} state @param {"water" | "feed"} name @param {LoggedEvent[]} events newest first
 * @returns {Layer}
 */
function daysSince(state, name, events) {
  return {
    notes: [],
    markOf({ planting, ordinal }) {
      const last = events.find((event) => event.day <= state.today && isOf(event, planting, ordinal));
      if (!last) return { level: 0, figure: "–", words: state.say(`screen.layers.${name}_never`) };
      const days = state.today - last.day;
      const words = state.say(`screen.layers.${name}_days`, { days, last_day: last.day });
      return { level: levelOf(days, DAY_STEPS), figure: String(days), words };
    },
  };
}

/**
 * Fruits counted from each plant. What was picked from several at once can't be told apart.
 * @param {State} state @param {LoggedEvent[]} events @returns {Layer}
 */
function picks(state, events) {
  const unnamed = events.filter((event) => !event.plants?.length);
  return {
    notes: unnamed.length ? [state.say("screen.layers.pick_unnamed", { count: unnamed.length })] : [],
    markOf({ planting, ordinal }) {
      let [fruits, shared, uncounted] = [0, 0, 0];
      for (const { planting: of, plants, details } of events) {
        if (of !== planting.id || !plants?.includes(ordinal)) continue;
        if (plants.length > 1) shared += 1;
        else if (typeof details.count === "number") fruits += details.count;
        else uncounted += 1;
      }
      const more = shared + uncounted;
      if (!fruits && !more)
        return { level: 0, figure: "–", words: state.say("screen.layers.pick_none") };
      const words = state.say(more ? "screen.layers.pick_more" : "screen.layers.pick_count", {
        fruits,
        more,
      });
      const figure = more ? `${fruits}+` : String(fruits);
      return { level: Math.max(1, levelOf(fruits, FRUIT_STEPS)), figure, words };
    },
  };
}

/**
 * Plants taken out, with the day and the cause.
 * @param {State} state @param {Bed} bed @returns {Layer}
 */
export function goneLayer(state, bed) {
  const events = state.look.events({ bed: bed.id, kind: "remove_plant" });
  return {
    notes: [],
    markOf({ planting, ordinal }) {
      const day = planting.removed[String(ordinal)];
      if (day === undefined) return undefined;
      const event = events.find((one) => one.day === day && isOf(one, planting, ordinal));
      const { cause } = event?.details ?? {};
      const words =
        typeof cause === "string"
          ? state.say("screen.layers.gone_cause", {
              removed_day: day,
              why: choiceOf(state, "remove_plant", "cause", cause),
            })
          : state.say("screen.layers.gone", { removed_day: day });
      return { level: 1, figure: "×", words };
    },
  };
}
