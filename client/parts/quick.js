// @ts-check
// Everyday work at one tap: what was given last time once more, and what was found on the chosen
// plants. What is chosen lately comes first; the full forms stay beside it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toRecord } from "./paths.js";
import { press, pressLink } from "./press.js";
import { recentDetails, recentEvents } from "./recent.js";
import { choiceOf, gist, verbOf, whoOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Subjects} Subjects */

/** Work that is done in the same way again and again; a treatment is read off its label anew. */
const REPEATED = /** @type {const} */ (["feed", "weed", "prune"]);
const OFFERED_OF_A_KIND = 2;
const OFFERED_ORGANISMS = 2;

/**
 * @param {State} state @param {Actions} actions @param {Subjects} subjects
 * @returns {unknown} nothing, when there is nothing to repeat and no plants are chosen
 */
export function quickWork(state, actions, subjects) {
  const found = subjects.planting && subjects.plants?.length ? findings(state, actions, subjects) : nothing;
  return html`${found}${againRow(state, actions, subjects)}`;
}

/** @param {State} state @param {Actions} actions @param {Subjects} subjects */
function againRow(state, actions, subjects) {
  const offers = REPEATED.filter((kind) => mayDo(state, kind, subjects)).flatMap((kind) =>
    recentDetails(state, kind, subjects, OFFERED_OF_A_KIND, { isAlike: true }).map((details) => ({
      kind,
      details,
      words: state.say("screen.quick.again", {
        verb: verbOf(state, kind),
        told: gist(state, kind, details),
      }),
    })),
  );
  if (!offers.length) return nothing;
  const who = whoOf(state, subjects);
  const title = state.say("screen.quick.title");
  return html`<div class="stack" role="group" aria-label=${title}>
    <p class="small">${title}</p>
    <div class="presses presses-words">
      ${offers.map(({ kind, details, words }) =>
        press(
          words,
          () => actions.record({ kind, subjects, details }),
          "press-field",
          state.say("screen.quick.again_name", { told: words, who }),
        ),
      )}
    </div>
  </div>`;
}

/**
 * A row of grades for each organism that was looked for lately.
 * @param {State} state @param {Actions} actions @param {Subjects} subjects
 */
function findings(state, actions, subjects) {
  const grades = state.look.kind("scout")?.fields.find((field) => field.name === "grade")?.choices;
  if (!grades || !mayDo(state, "scout", subjects)) return nothing;
  return html`<div class="stack">
    ${organismsFor(state, subjects).map((organism) => {
      const name = state.say("screen.scouting.organism", { organism });
      return html`<div class="stack" role="group" aria-label=${name}>
        <p class="small">${name}</p>
        <div class="presses presses-four">
          ${grades.map((grade) => {
            const words = choiceOf(state, "scout", "grade", grade);
            return press(
              words,
              () => actions.record({ kind: "scout", subjects, details: { organism, grade } }),
              "press-field",
              state.say("screen.quick.grade_name", { told: words, what: name }),
            );
          })}
        </div>
      </div>`;
    })}
    <p>
      ${pressLink(
        state.say("screen.quick.other_finding"),
        toRecord("scout", subjects),
        "press-field press-quiet",
      )}
    </p>
  </div>`;
}

/**
 * Those looked for lately; before anything was, the first of the rulebook that live on the crop.
 * @param {State} state @param {Subjects} subjects
 */
function organismsFor(state, subjects) {
  const lately = recentEvents(state, "scout", subjects)
    .map((event) => event.details.organism)
    .filter((organism) => typeof organism === "string");
  const crop = state.look.planting(subjects.planting ?? "")?.crop ?? "";
  const family = state.rulebook.crops[crop]?.family;
  const usual = Object.entries(state.rulebook.organisms ?? {})
    .filter(([, { families }]) => !family || !families || families.includes(family))
    .map(([organism]) => organism);
  return [...new Set([...lately, ...usual])].slice(0, OFFERED_ORGANISMS);
}

/**
 * Is nothing known that keeps hands away from this work?
 * @param {State} state @param {string} kind @param {Subjects} subjects
 */
function mayDo(state, kind, subjects) {
  const about = state.look.kind(kind);
  const isFitting = about && !(subjects.plants?.length && about.subjects.plants === "none");
  return Boolean(isFitting) && state.look.withheld(kind, subjects).state !== "blocked";
}
