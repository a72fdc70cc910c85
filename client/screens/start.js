// @ts-check
// One step of the first hour: the place, the beds, or the first planting.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { writtenOrHeld } from "../garden/not_saved.js";
import { nextName, stepsOf, toStep } from "../parts/first_hour.js";
import { entryForm } from "../parts/form.js";
import { layoutChooser } from "../parts/layout_chooser.js";
import { toRecord } from "../parts/paths.js";
import { press, pressLink } from "../parts/press.js";
import { lost, title } from "../parts/title.js";
import { roundIn } from "../units.js";
import { browserZone } from "../zone.js";
import { greeting, progress } from "./greeting.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Bed} Bed */

const OF_PLACE = ["latitude_deg", "longitude_deg", "last_frost", "zone"];
const OF_BED = ["name", "type", "length_m", "width_m"];
const OF_PLANTING = ["crop", "variety", "plants", "in_row_m", "between_rows_m"];
/** A bed that can be reached into from both sides. */
const USUAL_BED_M = { length_m: 3, width_m: 1.2 };
const SIZE_STEP_M = 0.3;
const USUAL_CROP = "pepper";
const USUAL_SPACING_M = { in_row_m: 0.45, between_rows_m: 0.6 };
const SPACING_STEP_M = 0.15;

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const { id } = state.route;
  if (!id) return greeting(state, actions);
  const steps = stepsOf(state);
  if (!steps.some(({ step }) => step === id)) return lost(state);
  const form = { place, beds, planting }[/** @type {"place" | "beds" | "planting"} */ (id)];
  return html`${title(state.say(`screen.greeting.${id}`), {
    from: { words: state.say("screen.greeting.again"), href: "#/start" },
    line: progress(state, steps),
  })}
  ${form(state, actions)}`;
}

/** Where to go on after a step: the next one that is open, or the round. @param {State} state */
function toNext(state) {
  const next = stepsOf(state).find(
    ({ step, state: standing }) => standing === "open" && step !== state.route.id,
  );
  return next
    ? { href: toStep(next.step), words: state.say(`screen.greeting.${next.step}_go`) }
    : { href: "#/", words: state.say("screen.page.to_round") };
}

/** @param {State} state @param {Actions} actions */
function place(state, actions) {
  const kind = state.look.kind("setting");
  if (!kind) return nothing;
  const { settings } = state;
  const known = OF_PLACE.filter((name) => settings[name] != null);
  const before = Object.fromEntries(known.map((name) => [name, settings[name]]));
  return html`<p class="soft">${state.say("screen.start.place_line")}</p>
    ${entryForm(state, actions, {
      key: `start place ${JSON.stringify(before)}`,
      kind,
      only: OF_PLACE,
      first: OF_PLACE,
      isMaking: true,
      start: { subjects: {}, details: { zone: browserZone(), ...before } },
      hideSubjects: true,
      hideWhen: true,
      submitWords: state.say("action.save"),
      submit: async ({ details }) => {
        await writtenOrHeld(actions.record({ kind: "setting", details }));
        actions.go(toNext(state).href);
      },
    })}`;
}

/** @param {State} state @param {Actions} actions */
function beds(state, actions) {
  const kind = state.look.kind("bed");
  if (!kind) return nothing;
  const taken = state.beds.map((bed) => bed.name);
  const last = newest(state.beds);
  const { units } = state.preferences;
  const start = {
    name: last ? nextName(last.name ?? "", taken) : state.say("screen.start.bed_name"),
    type: "ground",
    ...rounded(units, USUAL_BED_M, SIZE_STEP_M),
  };
  return html`${last ? madeSoFar(state, actions, last, start.name) : nothing}
  ${entryForm(state, actions, {
    key: `start bed ${state.beds.length} ${units}`,
    kind,
    only: OF_BED,
    first: OF_BED,
    isMaking: true,
    start: { subjects: {}, details: start },
    hideSubjects: true,
    hideWhen: true,
    submitWords: state.say("action.make_bed"),
    submit: ({ details }) => writtenOrHeld(actions.makeBed(details)),
  })}`;
}

/**
 * What there is already, one more like the last, and the way on.
 * @param {State} state @param {Actions} actions @param {Bed} last @param {string} name of the next
 */
function madeSoFar(state, actions, last, name) {
  const like = Object.fromEntries(
    (state.look.kind("bed")?.fields ?? [])
      .filter((field) => last[field.name] != null && field.type !== "id_list")
      .map((field) => [field.name, last[field.name]]),
  );
  const next = toNext(state);
  return html`<div class="chosen">
    <p class="chosen-words">
      ${state.say("screen.start.made", { beds: state.beds.map((bed) => bed.id) })}
    </p>
    <div class="presses">
      ${press(
        state.say("screen.start.another", { bed: last.id }),
        () => writtenOrHeld(actions.makeBed({ ...like, name })),
        "press-field",
      )}
      ${pressLink(next.words, next.href, "press-ink press-field")}
    </div>
  </div>`;
}

/** @param {State} state @param {Actions} actions */
function planting(state, actions) {
  const kind = state.look.kind("planting");
  if (!kind) return nothing;
  const made = newest(state.plantings);
  const bed = newest(state.beds)?.id;
  const { units } = state.preferences;
  const details = { crop: USUAL_CROP, ...rounded(units, USUAL_SPACING_M, SPACING_STEP_M) };
  return html`${made && made.from_day === undefined ? setOut(state, actions, made) : nothing}
  ${entryForm(state, actions, {
    key: `start planting ${state.plantings.length} ${bed} ${units}`,
    kind,
    only: OF_PLANTING,
    first: OF_PLANTING,
    isMaking: true,
    start: { subjects: bed ? { bed } : {}, details },
    hideWhen: true,
    submitWords: state.say("action.make_planting"),
    besideFields: (filled, subjects, set) => layoutChooser(state, filled, subjects, set),
    submit: ({ details: filled, subjects }) =>
      writtenOrHeld(actions.makePlanting(filled, subjects.bed)),
  })}`;
}

/**
 * When the plants went into the bed: most of what is due counts from that day.
 * @param {State} state @param {Actions} actions @param {import("../types.js").Planting} made
 */
function setOut(state, actions, made) {
  const subjects = { ...(made.bed ? { bed: made.bed } : {}), planting: made.id };
  const next = toNext(state);
  const today = async () => {
    await writtenOrHeld(actions.record({ kind: "transplant", subjects }));
    actions.go(next.href);
  };
  return html`<div class="chosen">
    <p class="chosen-words">${state.say("screen.start.stands", { planting: made.id })}</p>
    <div class="presses">
      ${made.bed ? press(state.say("screen.start.today"), today, "press-ink press-field") : nothing}
      ${pressLink(
        state.say("screen.start.other_day"),
        toRecord("transplant", subjects),
        "press-field",
      )}
      ${pressLink(state.say("screen.start.not_yet"), next.href, "press-field")}
    </div>
  </div>`;
}

/**
 * Sizes that are round ones in the person's units.
 * @param {import("../units.js").System} units @param {Record<string, number>} sizes in metres
 * @param {number} step
 */
const rounded = (units, sizes, step) =>
  Object.fromEntries(
    Object.entries(sizes).map(([name, size]) => [name, roundIn(units, "m", size, step)]),
  );

/** The one that was made last: ids are by age. @template {{id: string}} T @param {T[]} some */
const newest = (some) =>
  some.reduce((/** @type {T | undefined} */ last, one) => (last && last.id > one.id ? last : one), undefined);
