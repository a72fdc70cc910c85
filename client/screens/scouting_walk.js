// @ts-check
// A scouting walk: plants looked at one after the other over the whole bed, each told by one tap,
// until the answer is plain or the plants are through. It needs no shed.
import { isWritten } from "../garden/walk_written.js";
import { html } from "../vendor/lit-html/lit-html.js";
import { subjectsOf, toScoutingWalk, toSubject } from "../parts/paths.js";
import { whoOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";
import { walkEnd } from "../parts/walk_end.js";
import { walkStart } from "../parts/walk_start.js";
import { walkStep } from "../parts/walk_step.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const asked = subjectsOf(state.route.query);
  const planting = asked.planting ? state.look.planting(asked.planting) : undefined;
  if (planting) return ofPlanting(state, actions, planting);
  if (!asked.bed || asked.planting || !state.look.bed(asked.bed)) return lost(state);
  const here = state.look.plantingsOf(asked.bed).filter((one) => one.standing);
  if (here.length === 1) return ofPlanting(state, actions, here[0]);
  return html`${head(state, asked)}
  ${
    here.length
      ? html`<p>${state.say("screen.scout_walk.choose")}</p>
          <ul class="go-list">
            ${here.map(
              ({ id }) =>
                html`<li>
                  <a href=${toScoutingWalk(id)}
                    ><span>${state.say("screen.who.planting", { planting: id })}</span></a
                  >
                </li>`,
            )}
          </ul>`
      : html`<p>${state.say("screen.could_be.nothing_here")}</p>`
  }`;
}

/** @param {State} state @param {Subjects} subject */
const head = (state, subject) =>
  title(state.say("screen.scout_walk.title"), {
    from: { words: whoOf(state, subject), href: toSubject(subject) },
  });

/** @param {State} state @param {Actions} actions @param {Planting} planting */
function ofPlanting(state, actions, planting) {
  const walk = state.walks.find((one) => one.planting === planting.id);
  return html`${head(state, { planting: planting.id })}
  ${
    walk === undefined
      ? walkStart(state, actions, planting)
      : isWritten(state, walk)
        ? walkEnd(state, actions, walk, planting)
        : walkStep(state, actions, walk, planting)
  }`;
}
