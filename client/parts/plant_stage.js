// @ts-check
// How far a plant has grown, by the growth stages of solanaceous fruits (BBCH), in words.
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { isOf } from "./plan_layers.js";
import { press } from "./press.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */

const FAMILY = "solanaceae";
/** Principal stages in which the second figure counts leaves, shoots, buds, flowers or fruits. */
const COUNTED = new Set([1, 2, 5, 6, 7]);
const RIPENING = 8;
const SHARE_A_STEP = 0.1;
const LAST = 9;
const OFFERED = [10, 12, 14, 19, 21, 51, 61, 65, 69, 71, 75, 81, 85, 89];

/**
 * A code in words; undefined for one that the scale of these crops does not have.
 * @param {State} state @param {number} code
 */
export function stageWords(state, code) {
  const [principal, second] = [Math.floor(code / 10), code % 10];
  const exact = state.sayIf(`bbch.code.${code < 10 ? `0${code}` : code}`);
  if (exact !== null) return exact;
  if (second > 0 && second < LAST && COUNTED.has(principal))
    return state.say(`bbch.count.${principal}`, { count: second });
  if (second === LAST && COUNTED.has(principal)) return state.say(`bbch.many.${principal}`);
  if (principal === RIPENING && second > 0)
    return state.say("bbch.ripe", { ripe_share: second * SHARE_A_STEP });
  return state.sayIf(`bbch.principal.${principal}`) ?? undefined;
}

/** Is it a crop of the family that the scale was made for? @param {State} state
 * @param {Planting} planting */
const isScaled = (state, { crop = "" }) =>
  (state.settings.crops?.[crop]?.family ?? state.rulebook.crops[crop]?.family) === FAMILY;

/**
 * @param {State} state @param {Actions} actions @param {Planting} planting @param {number} ordinal
 */
export function plantStage(state, actions, planting, ordinal) {
  if (!isScaled(state, planting) || !state.look.kind("stage")) return nothing;
  const last = state.look
    .events({ planting: planting.id, kind: "stage" })
    .find((event) => typeof event.details.bbch === "number" && isOf(event, planting, ordinal));
  const code = Number(last?.details.bbch);
  const words = last ? stageWords(state, code) : undefined;
  const subjects = { planting: planting.id, plants: [ordinal] };
  return html`<section class="stack" aria-labelledby="plant-stage">
    <h2 id="plant-stage">${state.say("screen.plant.stage")}</h2>
    ${
      last
        ? html`<p>
            <b>${words ?? state.say("screen.plant.stage_odd")}</b>
            ${state.say("screen.plant.stage_code", { code, seen_day: last.day })}
          </p>`
        : html`<p class="soft">${state.say("screen.plant.stage_none")}</p>`
    }
    ${state.session?.role === "reader" ? nothing : choosing(state, actions, subjects)}
    <p class="small soft">${source(state)}</p>
  </section>`;
}

/** @param {State} state @param {Actions} actions @param {Subjects} subjects */
const choosing = (state, actions, subjects) =>
  html`<details class="help">
    <summary>${state.say("screen.plant.stage_set")}</summary>
    <div class="presses plant-stages">
      ${OFFERED.map((code) =>
        press(
          html`<b>${code}</b> <span>${stageWords(state, code)}</span>`,
          () => writtenOrHeld(actions.record({ kind: "stage", subjects, details: { bbch: code } })),
          "press-field press-wide press-quiet",
        ),
      )}
    </div>
  </details>`;

/** @param {State} state */
const source = ({ rulebook, say }) =>
  say("screen.plant.stage_source", {
    told: (rulebook.sources["feller-1995"] ?? "").replaceAll("*", ""),
  });
