// @ts-check
// The steps by which a new garden is begun, and how far they have come. What is done shows in the
// log itself; what a person leaves out is remembered on this phone alone.

/** @typedef {import("../types.js").State} State */
/** @typedef {"place" | "beds" | "planting"} Step */
/** @typedef {{step: Step, state: "done" | "skipped" | "open"}} Standing */

/** @type {Record<Step, (state: State) => boolean>} */
const IS_DONE = {
  place: ({ settings }) => settings.latitude_deg != null || settings.last_frost != null,
  beds: ({ beds }) => beds.length > 0,
  planting: ({ plantings }) => plantings.length > 0,
};
/** The place is the lead's to set; a reader sets nothing. @type {Record<string, Step[]>} */
const STEPS_OF = { lead: ["place", "beds", "planting"], helper: ["beds", "planting"] };

/** @param {State} state @returns {Standing[]} */
export const stepsOf = (state) =>
  (STEPS_OF[state.session?.role ?? ""] ?? []).map((step) => ({
    step,
    state: IS_DONE[step](state)
      ? "done"
      : state.preferences.skipped.includes(step)
        ? "skipped"
        : "open",
  }));

/** @param {Standing[]} steps */
export const isOver = (steps) => steps.every(({ state }) => state !== "open");

/** @param {Step} step */
export const toStep = (step) => `#/start/${step}`;

/**
 * The next of a row of names: "Bed 1", "Bed 2"; "Gate bed", "Gate bed 2".
 * @param {string} name @param {readonly (string | undefined)[]} taken
 */
export function nextName(name, taken) {
  const [, stem, last] = /^(.*?) ?(\d*)$/.exec(name) ?? ["", name, ""];
  let number = Number(last || 1) + 1;
  while (taken.includes(`${stem} ${number}`)) number += 1;
  return `${stem} ${number}`;
}
