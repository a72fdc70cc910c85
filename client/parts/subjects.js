// @ts-check
// Which bed, planting and plants an entry is about: told in one line, changed by opening it.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { box } from "./choosing.js";
import { plantNumbers } from "./plant_numbers.js";
import { whereOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").SubjectRule} SubjectRule */
/** @typedef {import("../types.js").KindDescription} KindDescription */
/** @typedef {import("../types.js").Message} Message */

/**
 * @param {State} state
 * @param {KindDescription} kind
 * @param {{subjects: Subjects, wrong: Message[], isOpen: boolean, isMaking: boolean,
 *   open: () => void,  change: (subjects: Subjects) => void}} with_
 */
export function subjects(state, kind, with_) {
  const rules = kind.subjects;
  if (rules.bed === "none" && rules.planting === "none") return nothing;
  const { wrong, isOpen, open } = with_;
  return html`<fieldset class="field ${wrong.length ? "is-wrong" : ""}" id="field-subjects">
    <legend class="field-label">${state.say("screen.form.for")}</legend>
    <div class="row">
      <p class="form-for">${whereOf(state, with_.subjects)}</p>
      <button type="button" class="press press-quiet" aria-expanded=${isOpen} @click=${open}>
        ${state.say(isOpen ? "screen.form.done_choosing" : "screen.form.change")}
      </button>
    </div>
    ${wrong.map(
      (message) => html`<p class="field-wrong">${state.say(message.key, message.values)}</p>`,
    )}
    ${
      isOpen
        ? choices(
            state,
            with_.isMaking ? bedOnly(kind) : kind.subjects,
            with_.subjects,
            with_.change,
          )
        : nothing
    }
  </fieldset>`;
}

/**
 * What is being made is no choice, its bed is.
 * @param {KindDescription} kind
 * @returns {KindDescription["subjects"]}
 */
const bedOnly = (kind) => ({ ...kind.subjects, planting: "none", plants: "none" });

/**
 * @param {State} state @param {KindDescription["subjects"]} rules
 * @param {Subjects} now @param {(next: Subjects) => void} change
 */
function choices(state, rules, now, change) {
  const planting = now.planting ? state.look.planting(now.planting) : undefined;
  const changePlants = (/** @type {number[]} */ plants) => {
    const { plants: _before, ...rest } = now;
    change(plants.length ? { ...rest, plants } : rest);
  };
  return html`${rules.bed === "none" ? nothing : beds(state, rules.bed, now, change)}
  ${rules.planting === "none" ? nothing : plantings(state, rules.planting, now, change)}
  ${
    rules.plants === "none" || !planting
      ? nothing
      : plantNumbers(state, planting, now.plants ?? [], changePlants)
  }`;
}

/**
 * @param {State} state @param {SubjectRule} rule
 * @param {Subjects} now @param {(next: Subjects) => void} change
 */
function beds(state, rule, now, change) {
  const none = box(
    "radio",
    "for-no-bed",
    "for-bed",
    state.say("screen.form.no_bed"),
    now.bed === undefined,
    () => change({}),
  );
  return html`<div class="boxes" role="group" aria-label=${state.say("screen.form.bed")}>
    ${rule === "optional" ? none : nothing}
    ${state.beds.map(({ id }) =>
      box(
        "radio",
        `for-${id}`,
        "for-bed",
        state.say("screen.who.bed", { bed: id }),
        now.bed === id,
        () => change({ bed: id }),
      ),
    )}
  </div>`;
}

/**
 * @param {State} state @param {SubjectRule} rule
 * @param {Subjects} now @param {(next: Subjects) => void} change
 */
function plantings(state, rule, now, change) {
  const offered = now.bed
    ? state.look.plantingsOf(now.bed).filter((one) => one.standing || one.id === now.planting)
    : state.plantings.filter((one) => one.standing || !one.until_day);
  if (!offered.length) return nothing;
  const none = box(
    "radio",
    "for-no-planting",
    "for-planting",
    state.say(now.bed ? "screen.form.whole_bed" : "screen.form.no_planting"),
    now.planting === undefined,
    () => change(now.bed ? { bed: now.bed } : {}),
  );
  return html`<div class="boxes" role="group" aria-label=${state.say("screen.form.planting")}>
    ${rule === "optional" ? none : nothing}
    ${offered.map(({ id, bed = now.bed }) =>
      box(
        "radio",
        `for-${id}`,
        "for-planting",
        state.say("screen.who.planting", { planting: id }),
        now.planting === id,
        () => change({ ...(bed ? { bed } : {}), planting: id }),
      ),
    )}
  </div>`;
}
