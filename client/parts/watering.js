// @ts-check
// Water for a bed: what its account asks for and the amounts used here lately as large buttons, and
// a stepper for another one.
import { roundIn } from "../units.js";
import { html } from "../vendor/lit-html/lit-html.js";
import { local } from "./local.js";
import { toRecord } from "./paths.js";
import { press } from "./press.js";
import { recentDetails } from "./recent.js";
import { stepper } from "./stepper.js";
import { gist, verbOf } from "./telling.js";
import { waterFinding } from "./water_account.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Details} Details */

const OFFERED = 3;

/** @param {State} state @param {Actions} actions @param {string} bed */
export function watering(state, actions, bed) {
  const volume = state.look.kind("water")?.fields.find((field) => field.name === "volume_l");
  const step = volume?.step ?? 1;
  const presets = [...asked(state, bed), ...lately(state, bed, step)].slice(0, OFFERED);
  const verb = verbOf(state, "water");
  const record = (/** @type {Details} */ details) =>
    actions.record({ kind: "water", subjects: { bed }, details });
  const start = Number(presets[0]?.volume_l);
  return html`<section class="stack" aria-labelledby="bed-water">
    <h2 id="bed-water">${verb}</h2>
    <div class="presses presses-three">
      ${presets.map((details) => {
        const amount = gist(state, "water", details);
        return press(
          amount,
          () => record(details),
          "press-ink press-field press-tall",
          state.say("screen.bed.water_name", { verb, amount, bed }),
        );
      })}
    </div>
    ${anotherAmount(state, actions, bed, { start, step, record })}
    <p>
      <a class="text-press" href=${toRecord("water", { bed })}
        >${state.say("screen.bed.water_form")}</a
      >
    </p>
  </section>`;
}

/**
 * @param {State} state @param {Actions} actions @param {string} bed
 * @param {{start: number, step: number, record: (details: Details) => unknown}} with_
 */
function anotherAmount(state, actions, bed, { start, step, record }) {
  const verb = verbOf(state, "water");
  return local(
    `water ${bed}`,
    () => ({ litres: /** @type {number | string | undefined} */ (start) }),
    (held, change) =>
      html`<div class="watering-other">
        <label class="unseen" for="water-litres">${state.say("screen.bed.other_amount")}</label>
        ${stepper(state, {
          id: "water-litres",
          label: state.say("screen.bed.other_amount"),
          value: held.litres,
          step,
          min: 0,
          unit: "L",
          change: (value) =>
            change((now) => {
              now.litres = value;
            }),
        })}
        ${press(
          typeof held.litres === "number"
            ? state.say("screen.bed.water_this", { verb, amount: held.litres, unit: "L" })
            : `${verb} …`,
          () =>
            typeof held.litres === "number" && held.litres > 0
              ? record({ volume_l: held.litres })
              : actions.go(toRecord("water", { bed })),
          "press-field",
        )}
      </div>`,
  );
}

/** What the bed's water account asks for. @param {State} state @param {string} bed */
function asked(state, bed) {
  const litres = waterFinding(state, bed)?.message.values.volume_l;
  return typeof litres === "number" && litres > 0 ? [{ volume_l: litres }] : [];
}

/**
 * Different waterings, of this bed before others, newest first; then half and double the last one.
 * @param {State} state @param {string} bed @param {number} step @returns {Details[]}
 */
function lately(state, bed, step) {
  const written = recentDetails(state, "water", { bed }, OFFERED, { isAlike: true });
  const seen = new Map(written.map((details) => [gist(state, "water", details), details]));
  const last = written.find((details) => typeof details.volume_l === "number");
  const { units } = state.preferences;
  const sizes = last
    ? [0.5, 2, 1.5].map((times) => roundIn(units, "L", Number(last.volume_l) * times, step))
    : [10, 20, 40].map((times) => roundIn(units, "L", step * times));
  for (const volume_l of sizes) {
    const details = { ...last, volume_l };
    const words = gist(state, "water", details);
    if (seen.size < OFFERED && !seen.has(words)) seen.set(words, details);
  }
  return [...seen.values()].slice(0, OFFERED);
}
