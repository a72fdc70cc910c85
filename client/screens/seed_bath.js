// @ts-check
// A hot bath for seed: what is known about it, a timer that outlives the page, and one tap after it.
// The moment of its end stands in the address, so that a reload or a sleeping phone loses nothing.
import { countdown, endAfter } from "../parts/countdown.js";
import { local } from "../parts/local.js";
import { toPlanting, toSeedBath } from "../parts/paths.js";
import { press } from "../parts/press.js";
import { stepper } from "../parts/stepper.js";
import { lost, title } from "../parts/title.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { writtenOrHeld } from "../garden/not_saved.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {{water: number, minutes: number}} Bath */
/** @typedef {Bath & {source: string}} Protocol */

const CAUTIONS = /** @type {const} */ (["thermometer", "scald", "seed", "cool", "trial"]);
const LONGEST_MIN = 120;

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const { query } = state.route;
  const planting = state.look.planting(query.planting ?? "");
  if (!planting) return lost(state);
  const until = Number(query.until);
  const bath = { water: Number(query.water), minutes: Number(query.minutes) };
  return html`${title(state.say("screen.seed_bath.title"), {
      from: {
        words: state.say("screen.who.planting", { planting: planting.id }),
        href: toPlanting(planting.id),
      },
      line: state.say("screen.seed_bath.line"),
    })}
    ${
      until > 0 && bath.minutes > 0
        ? running(state, actions, planting, bath, until)
        : choosing(state, actions, planting)
    }
    <section class="stack" aria-labelledby="bath-cautions">
      <h2 id="bath-cautions">${state.say("screen.seed_bath.cautions")}</h2>
      <ul class="bath-cautions">
        ${CAUTIONS.map((name) => html`<li>${state.say(`screen.seed_bath.caution.${name}`)}</li>`)}
      </ul>
    </section>`;
}

/** @param {State} state @param {Actions} actions @param {Planting} planting */
function choosing(state, actions, planting) {
  const start = (/** @type {Bath} */ { water, minutes }) =>
    actions.go(toSeedBath(planting.id, { water, minutes, until: endAfter(minutes) }));
  const known = protocols(state, planting);
  return html`<section class="stack" aria-labelledby="bath-known">
      <h2 id="bath-known">${state.say("screen.seed_bath.known")}</h2>
      ${known.length ? nothing : html`<p>${state.say("screen.seed_bath.none_known")}</p>`}
      <div class="bath-list">
        ${known.map(
          (one) =>
            html`<div class="bath-start">
              ${press(
                state.say("screen.seed_bath.start", one),
                () => start(one),
                "press-ink press-tall",
              )}
              <p class="small">${sourceOf(state, one.source)}</p>
            </div>`,
        )}
      </div>
    </section>
    ${own(state, start)}`;
}

/**
 * A bath by figures of one's own, such as those of the seed's grower.
 * @param {State} state @param {(bath: Bath) => void} start
 */
const own = (state, start) =>
  local(
    "own bath",
    () => ({ water: /** @type {unknown} */ (50), minutes: /** @type {unknown} */ (25) }),
    (held, change) => {
      const { water, minutes } = held;
      const isFit =
        typeof water === "number" &&
        typeof minutes === "number" &&
        water > 0 &&
        minutes > 0 &&
        minutes <= LONGEST_MIN;
      const field = (/** @type {"water" | "minutes"} */ name, /** @type {string} */ unit) => {
        const label = state.say(`screen.seed_bath.${name}`);
        return html`<label class="field-label" for="bath-${name}">${label}</label>
          ${stepper(state, {
            id: `bath-${name}`,
            label,
            value: held[name],
            step: name === "water" ? 0.5 : 1,
            min: 1,
            unit,
            change: (value) =>
              change((now) => {
                now[name] = value;
              }),
          })}`;
      };
      return html`<section class="stack" aria-labelledby="bath-own">
        <h2 id="bath-own">${state.say("screen.seed_bath.own")}</h2>
        ${field("water", "°C")} ${field("minutes", "min")}
        ${
          isFit
            ? press(
                state.say("screen.seed_bath.start", { water, minutes }),
                () => start({ water, minutes }),
                "press-field",
              )
            : html`<p class="form-odd">${state.say("screen.seed_bath.ask")}</p>`
        }
      </section>`;
    },
  );

/**
 * @param {State} state @param {Actions} actions @param {Planting} planting @param {Bath} bath
 * @param {number} until
 */
function running(state, actions, planting, bath, until) {
  const writeDown = async () => {
    const made = await writtenOrHeld(
      actions.record({
        kind: "seed_treatment",
        subjects: { planting: planting.id, ...(planting.bed ? { bed: planting.bed } : {}) },
        details: { method: "hot_water", water_c: bath.water, duration_min: bath.minutes },
      }),
    );
    if (made) actions.go(toPlanting(planting.id));
  };
  return countdown(
    until,
    (/** @type {number} */ left) =>
      html`<section class="bath" aria-labelledby="bath-running">
        <h2 id="bath-running">${state.say("screen.seed_bath.running", bath)}</h2>
        <p class="bath-left" role="timer">${clock(left)}</p>
        <p role="status">${left ? "" : state.say("screen.seed_bath.over")}</p>
        ${
          left
            ? nothing
            : press(state.say("screen.seed_bath.write"), writeDown, "press-ink press-tall")
        }
        ${press(
          state.say(left ? "screen.seed_bath.stop" : "screen.seed_bath.away"),
          () => actions.go(toSeedBath(planting.id)),
          left ? "press-tall" : "press-field press-quiet",
        )}
      </section>`,
  );
}

/** "24:05". @param {number} seconds */
const clock = (seconds) =>
  `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;

/**
 * The baths that the list of crops has for this one.
 * @param {State} state @param {Planting} planting
 * @returns {Protocol[]}
 */
function protocols(state, planting) {
  const crop = state.rulebook.crops[planting.crop ?? ""];
  return (crop?.bath_c ?? []).map((water, at) => ({
    water,
    minutes: crop?.bath_min?.[at] ?? 0,
    source: crop?.bath_sources?.[at] ?? "",
  }));
}

/** What a source's key stands for; the list marks titles by stars. @param {State} state @param {string} source */
const sourceOf = (state, source) =>
  state.rulebook.sources[source]?.replaceAll("*", "") ?? state.sayIf(`source.${source}`) ?? source;
