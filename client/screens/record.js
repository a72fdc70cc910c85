// @ts-check
// Writing one entry of any kind; without a kind, the list of what can be written.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { entryForm } from "../parts/form.js";
import { subjectsOf, toReckon, toRecord, toSubject } from "../parts/paths.js";
import { pressLink } from "../parts/press.js";
import { recentDetails } from "../parts/recent.js";
import { startFor, submitFor } from "../parts/record_modes.js";
import { gist, titleOf, verbOf, whereOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";
import { warned } from "../parts/warned.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Subjects} Subjects */

/** Work that is often done in the very same way; of what is measured or counted only the last. */
const OFTEN_THE_SAME = new Set([
  "water", "feed", "treat", "mulch", "prune", "stake", "weed", "cover", "clean", "rain",
]);
const OFFERED_AGAIN = 3;
const GROUPS = /** @type {const} */ (["work", "weather", "book"]);
/** Written by their own screens or by a button, never as a form of their own. */
const UNLISTED = new Set([
  "correct",
  "void",
  "decline",
  "photo",
  "garden",
  "setting",
  "bed",
  "planting",
]);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const { id, query } = state.route;
  if (!id) return list(state, subjectsOf(query));
  const kind = state.look.kind(id);
  // A photo is taken, never filled in; what is said of it can be put right.
  const isPhoto = id === "photo";
  if (!kind || (isPhoto && !query.correct && !query.mends)) return lost(state);
  const start = startFor(state, kind, query);
  const finding = query.answers ? state.look.finding(query.answers) : undefined;
  const subject = start.subjects;
  const again =
    kind.structural || query.correct || query.mends
      ? []
      : recentDetails(
          state,
          id,
          subject,
          OFTEN_THE_SAME.has(id) ? OFFERED_AGAIN : 1,
        ).map((details) => ({
          details,
          words: state.say("screen.record.again", { told: gist(state, id, details) }),
        }));
  return html`${title(
    state.say(query.correct ? "screen.record.correct" : "screen.record.title", {
      verb: verbOf(state, id),
    }),
    {
      from: {
        words:
          subject.bed || subject.planting
            ? whereOf(state, { ...subject, plants: undefined })
            : state.say("screen.round.name"),
        href: toSubject(subject),
      },
      line: finding ? titleOf(state, finding) : undefined,
    },
  )}
  ${subject.bed || subject.planting ? warned(state, subject, id) : nothing}
  ${
    id === "feed"
      ? pressLink(state.say("screen.reckon.title"), toReckon(subject.planting), "press-quiet")
      : nothing
  }
  ${entryForm(state, actions, {
    key: `${id} ${JSON.stringify(query)}`,
    kind,
    start,
    submitWords: state.say(
      query.correct
        ? "action.save_correction"
        : kind.structural
          ? "action.save"
          : "action.write_down",
    ),
    submit: (filled) => submitFor(state, actions, kind, query, start, filled),
    hideSubjects: kind.structural,
    hideWhen: kind.structural,
    takesPictures: !kind.structural && !query.correct && !isPhoto,
    ...(isPhoto ? { only: ["note"] } : {}),
    again,
  })}`;
}

/** @param {State} state @param {Subjects} subjects */
const list = (state, subjects) =>
  html`${title(state.say("screen.record.list"), {
    from: { words: state.say("screen.round.name"), href: "#/" },
    line: subjects.bed || subjects.planting ? whereOf(state, subjects) : undefined,
  })}
  ${GROUPS.map((group) => {
    const kinds = state.kinds.filter(
      (kind) => kind.group === group && !kind.structural && !UNLISTED.has(kind.name),
    );
    return kinds.length
      ? html`<section class="stack" aria-labelledby="kinds-${group}">
          <h2 id="kinds-${group}">${state.say(`screen.record.${group}`)}</h2>
          <ul class="presses">
            ${kinds.map(
              (kind) =>
                html`<li>
                  <a class="press press-field press-wide" href=${toRecord(kind.name, subjects)}
                    >${verbOf(state, kind.name)}</a
                  >
                </li>`,
            )}
          </ul>
        </section>`
      : nothing;
  })}`;
