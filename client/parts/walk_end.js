// @ts-check
// The end of a scouting walk: what it came to, and where that stands in the log.
import { answerFrom, findingOf, seenIn, isFound } from "../garden/walk_reading.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { toCouldBe, toFinding, toPlanting } from "./paths.js";
import { press, pressLink } from "./press.js";
import { walkPlan } from "./walk_plan.js";
import { running } from "./walk_told.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Walk} Walk */

/** @param {State} state @param {Actions} actions @param {Walk} walk @param {Planting} planting */
export function walkEnd(state, actions, walk, planting) {
  const finding = findingOf(state, walk, planting);
  const isOpen = finding !== undefined && state.look.finding(finding.key) !== undefined;
  return html`<p>
      ${state.say("screen.scout_walk.written", {
        organism: walk.organism,
        count: seenIn(walk).length,
      })}
    </p>
    ${running(state, walk, planting, finding)}
    ${
      answerFrom(finding) === "above"
        ? html`<p>${state.say("caution.scouting")}</p>`
        : nothing
    }
    ${walkPlan(state, actions, walk, planting)}
    <div class="presses">
      ${
        isOpen
          ? pressLink(state.say("screen.scout_walk.finding"), toFinding(finding.key), "press-field")
          : nothing
      }
      ${
        seenIn(walk).some(isFound)
          ? pressLink(
              state.say("action.could_be"),
              toCouldBe({ planting: planting.id }),
              "press-field press-quiet",
            )
          : nothing
      }
      ${press(
        state.say("screen.scout_walk.again"),
        () => actions.dropWalk(planting.id),
        "press-field press-quiet",
      )}
      ${press(
        state.say("screen.scout_walk.done"),
        async () => {
          await actions.dropWalk(planting.id);
          actions.go(toPlanting(planting.id));
        },
        "press-ink press-field",
      )}
    </div>`;
}
