// @ts-check
// Making a bed, or a planting laid out by its spacing.
import { html } from "../vendor/lit-html/lit-html.js";
import { writtenOrHeld } from "../garden/not_saved.js";
import { entryForm } from "../parts/form.js";
import { layoutChooser } from "../parts/layout_chooser.js";
import { toBed, toPlanting } from "../parts/paths.js";
import { lost, title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

const FIRST_OF_PLANTING = [
  "crop",
  "variety",
  "in_row_m",
  "between_rows_m",
  "plants",
  "rows",
  "planned_on",
];
const NOT_AT_MAKING = new Set(["retired_on", "ended_on"]);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const what = state.route.id;
  const kind = what === "bed" || what === "planting" ? state.look.kind(what) : undefined;
  if (!kind) return lost(state);
  const bed = state.route.query.bed;
  const isBed = what === "bed";
  const only = kind.fields.map((field) => field.name).filter((name) => !NOT_AT_MAKING.has(name));
  return html`${title(state.say(`screen.new.${what}`), {
    from: bed
      ? { words: state.say("screen.who.bed", { bed }), href: toBed(bed) }
      : { words: state.say("screen.round.name"), href: "#/" },
  })}
  ${entryForm(state, actions, {
    key: `new ${what} ${bed ?? ""}`,
    kind,
    only,
    start: { subjects: bed && !isBed ? { bed } : {}, details: {} },
    submitWords: state.say(isBed ? "action.make_bed" : "action.make_planting"),
    hideWhen: true,
    ...(isBed
      ? { hideSubjects: true }
      : {
          first: FIRST_OF_PLANTING,
          besideFields: (details, subjects, set) => layoutChooser(state, details, subjects, set),
        }),
    isMaking: true,
    submit: async ({ details, subjects }) => {
      const making = isBed
        ? actions.makeBed(details)
        : actions.makePlanting(details, subjects.bed);
      const made = await writtenOrHeld(making);
      if (!made) actions.go("#/");
      else actions.go(isBed ? toBed(made.id) : toPlanting(made.id));
    },
  })}`;
}
