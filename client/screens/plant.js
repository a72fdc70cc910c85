// @ts-check
// One plant's own story: how far it is, what was done to it, found on it and picked from it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { rowOf } from "../log/layout.js";
import { lines } from "../parts/lines.js";
import { toPlant, toPlanting, toRecord } from "../parts/paths.js";
import { pictures } from "../parts/pictures.js";
import { isOf } from "../parts/plan_layers.js";
import { plantStage } from "../parts/plant_stage.js";
import { pressLink } from "../parts/press.js";
import { verbOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */

const FOR_IT = /** @type {const} */ (["pick", "scout", "prune", "note", "remove_plant"]);
const SHOWN_OF_ALL = 20;

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const [id, number] = state.route.id.split("/");
  const planting = state.look.planting(id);
  const ordinal = Number(number);
  const count = Number(planting?.plants) || 0;
  if (!planting || !Number.isInteger(ordinal) || ordinal < 1 || ordinal > count) return lost(state);
  const subjects = {
    ...(planting.bed ? { bed: planting.bed } : {}),
    planting: planting.id,
    plants: [ordinal],
  };
  const events = state.look.events({ planting: planting.id });
  const own = events.filter((event) => event.plants?.includes(ordinal));
  return html`${title(state.say("screen.plant.title", { number: ordinal }), {
      from: {
        words: state.say("screen.who.planting", { planting: planting.id }),
        href: toPlanting(planting.id),
      },
      line: stands(state, planting, ordinal),
    })}
    ${sums(state, own)} ${plantStage(state, actions, planting, ordinal)}
    <section class="stack" aria-labelledby="plant-do">
      <h2 id="plant-do">${state.say("screen.planting.do")}</h2>
      <div class="presses">
        ${FOR_IT.filter((kind) => state.look.kind(kind)).map((kind) =>
          pressLink(verbOf(state, kind), toRecord(kind, subjects), "press-field"),
        )}
      </div>
    </section>
    ${pictures(
      state,
      actions,
      own.filter(({ kind }) => kind === "photo"),
      { subjects },
    )}
    <section class="stack" aria-labelledby="plant-story">
      <h2 id="plant-story">${state.say("screen.plant.story")}</h2>
      ${lines(state, actions, own, { where: false })}
    </section>
    ${ofAll(state, actions, planting, ordinal)} ${neighbours(state, planting, ordinal)}`;
}

/** @param {State} state @param {Planting} planting @param {number} ordinal */
function stands(state, planting, ordinal) {
  const removed = planting.removed[String(ordinal)];
  if (removed !== undefined) return state.say("screen.layers.gone", { removed_day: removed });
  const row = rowOf(ordinal, Number(planting.plants), Number(planting.rows) || 1);
  const label = /** @type {Record<string, {label?: string}> | undefined} */ (planting.labels)?.[
    String(ordinal)
  ]?.label;
  const words = state.say("screen.plan.row", { row });
  return label ? `${words}, ${label}` : words;
}

/** @param {State} state @param {import("../types.js").LoggedEvent[]} own */
function sums(state, own) {
  const picked = own.filter(({ kind, plants }) => kind === "pick" && plants?.length === 1);
  if (!picked.length) return nothing;
  const fruits = picked.reduce((sum, { details }) => sum + (Number(details.count) || 0), 0);
  return html`<p>${state.say("screen.plant.picked", { fruits, times: picked.length })}</p>`;
}

/**
 * What was done to the whole planting or the whole bed, which the plant had its part of.
 * @param {State} state @param {Actions} actions @param {Planting} planting @param {number} ordinal
 */
function ofAll(state, actions, planting, ordinal) {
  const near = planting.bed
    ? state.look.events({ bed: planting.bed })
    : state.look.events({ planting: planting.id });
  const from = planting.from_day ?? planting.sown_day ?? -Infinity;
  const shared = near
    .filter((event) => !event.plants?.length && event.day >= from && isOf(event, planting, ordinal))
    .slice(0, SHOWN_OF_ALL);
  if (!shared.length) return nothing;
  return html`<section class="stack" aria-labelledby="plant-all">
    <h2 id="plant-all">${state.say("screen.plant.of_all")}</h2>
    ${lines(state, actions, shared, { where: false })}
  </section>`;
}

/** The plants beside it in the numbering. @param {State} state @param {Planting} planting
 * @param {number} ordinal */
function neighbours(state, planting, ordinal) {
  const others = [ordinal - 1, ordinal + 1].filter(
    (one) => one >= 1 && one <= Number(planting.plants),
  );
  return html`<nav class="presses presses-two" aria-label=${state.say("screen.plant.others")}>
    ${others.map((one) =>
      pressLink(
        state.say("screen.form.plant", { number: one }),
        toPlant(planting.id, one),
        "press-quiet",
      ),
    )}
  </nav>`;
}
