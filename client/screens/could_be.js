// @ts-check
// What could this be? Signs are picked, causes are ranked by them and by the weather in the log, and
// what was seen is written down. Everything needed lies on the phone.
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { causes } from "../parts/causes.js";
import { local } from "../parts/local.js";
import { subjectsOf, toCouldBe, toSubject } from "../parts/paths.js";
import { press } from "../parts/press.js";
import { signPicker, signsByPart } from "../parts/signs.js";
import { whoOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";
import { couldBe, shownBy, troublesOf } from "../rules/troubles.js";
import { stageOf, weatherFeatures } from "../rules/weather_features.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {{picked: Set<string>, suspected: string | null}} Held */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const asked = subjectsOf(state.route.query);
  if (!asked.planting && asked.bed && state.look.bed(asked.bed)) return ofBed(state, actions, asked);
  const planting = asked.planting ? state.look.planting(asked.planting) : undefined;
  return planting ? ofPlanting(state, actions, planting, asked) : lost(state);
}

/**
 * A bed with one planting is about that one; with several, the person says which.
 * @param {State} state @param {Actions} actions @param {Subjects} asked
 */
function ofBed(state, actions, asked) {
  const bed = asked.bed ?? "";
  const here = state.look.plantingsOf(bed).filter((one) => one.standing);
  if (here.length === 1) return ofPlanting(state, actions, here[0], { ...asked, planting: here[0].id });
  return html`${head(state, asked)}
  ${
    here.length
      ? html`<p>${state.say("screen.could_be.choose")}</p>
          <ul class="go-list">
            ${here.map(
              ({ id }) =>
                html`<li>
                  <a href=${toCouldBe({ planting: id })}
                    ><span>${state.say("screen.who.planting", { planting: id })}</span></a
                  >
                </li>`,
            )}
          </ul>`
      : html`<p>${state.say("screen.could_be.nothing_here")}</p>`
  }`;
}

/** @param {State} state @param {Actions} actions @param {Planting} planting @param {Subjects} asked */
function ofPlanting(state, actions, planting, asked) {
  const { rulebook, settings } = state;
  const crop = planting.crop ?? null;
  const at = circumstances(state, planting);
  const parts = signsByPart(state, shownBy(troublesOf(rulebook, crop, settings.crops)));
  return html`${head(state, asked)}
  ${crop === null ? html`<p class="soft">${state.say("screen.could_be.no_crop")}</p>` : nothing}
  ${local(
    `could-be ${planting.id}`,
    () => /** @type {Held} */ ({ picked: new Set(), suspected: null }),
    (held, change) => {
      const answer = couldBe(rulebook, crop, settings.crops, [...held.picked], at);
      const toggle = (/** @type {string} */ sign) =>
        change(({ picked }) => void (picked.delete(sign) || picked.add(sign)));
      const choose = (/** @type {string} */ trouble) =>
        change((now) => {
          now.suspected = now.suspected === trouble ? null : trouble;
        });
      return html`<section class="stack" aria-labelledby="could-be-signs">
          <h2 id="could-be-signs">${state.say("screen.could_be.signs")}</h2>
          ${signPicker(state, parts, held.picked, toggle)}
          ${held.picked.size ? jump(state, held.picked.size) : nothing}
        </section>
        <section class="stack" aria-labelledby="could-be-causes">
          <h2 id="could-be-causes">${state.say("screen.could_be.results")}</h2>
          ${causes(state, answer, { trouble: held.suspected, choose })}
          ${isWeatherUnknown(at.features) ? noWeather(state) : nothing}
          ${held.picked.size ? writeDown(state, actions, asked, parts, held) : nothing}
        </section>`;
    },
  )}`;
}

/** Down to the causes, from wherever in the long list of signs. @param {State} state @param {number} count */
const jump = (state, count) =>
  press(
    state.say("screen.could_be.jump", { count }),
    () => document.getElementById("could-be-causes")?.scrollIntoView(),
    "press-ink press-wide signs-jump",
  );

/** @param {State} state @param {Subjects} asked */
const head = (state, asked) =>
  title(state.say("screen.could_be.title"), {
    from: { words: whoOf(state, asked), href: toSubject(asked) },
    line: state.say("screen.could_be.line"),
  });

/** What the log tells beside the signs. @param {State} state @param {Planting} planting */
function circumstances(state, planting) {
  const seen = state.look.view({ planting: planting.id });
  const days = state.rulebook.ranking.weather_days;
  return {
    features: weatherFeatures(seen?.events ?? [], seen?.bed ?? null, state.today, days),
    stage: stageOf(planting),
  };
}

/** @param {import("../rules/weather_features.js").Features} features */
const isWeatherUnknown = (features) => Object.values(features).every((value) => value === null);

/** @param {State} state */
const noWeather = (state) =>
  html`<p class="small soft">
    ${state.say("screen.could_be.weather_none", { days: state.rulebook.ranking.weather_days })}
  </p>`;

/**
 * @param {State} state @param {Actions} actions @param {Subjects} subjects
 * @param {[string, string[]][]} parts @param {Held} held
 */
const writeDown = (state, actions, subjects, parts, { picked, suspected }) =>
  press(
    state.say("action.write_signs"),
    async () => {
      const signs = parts.flatMap(([, all]) => all).filter((sign) => picked.has(sign));
      const details = { signs, ...(suspected === null ? {} : { suspected }) };
      await writtenOrHeld(actions.record({ kind: "signs", subjects, details }));
      actions.go(toSubject(subjects));
    },
    "press-ink press-field press-wide",
  );
