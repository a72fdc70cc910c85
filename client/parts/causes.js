// @ts-check
// Likely causes with what speaks for and against each, and what to do first. Never a diagnosis.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../rules/troubles.js").Answer} Answer */
/** @typedef {import("../rules/troubles.js").Ranked} Ranked */
/** @typedef {import("../rules/troubles.js").Trouble} Trouble */
/** @typedef {import("../rules/troubles.js").Weighed} Weighed */
/** @typedef {{trouble: string | null, choose: (trouble: string) => void}} Suspected */

const MOST_SHOWN = 5;
/** How many are named where the signs are not enough. */
const FEW_SHOWN = 3;

/**
 * What the signs come to: in words, then cause by cause.
 * @param {State} state @param {Answer} answer @param {Suspected} suspected
 */
export function causes(state, answer, suspected) {
  const most = answer.why === "too_little" ? FEW_SHOWN : MOST_SHOWN;
  const first = answer.ranked.slice(0, most);
  return html`<div class="stack" role="status">
      <p>${state.say(`could_be.${answer.why ?? answer.verdict}`)}</p>
      ${apart(state, answer)}
    </div>
    ${
      answer.why === "too_little" && first.length
        ? html`<p class="soft">${state.say("could_be.faint")}</p>`
        : nothing
    }
    <ol class="causes">
      ${repeat(
        first,
        (one) => one.trouble,
        (one) => cause(state, one, suspected),
      )}
    </ol>`;
}

/** What would tell the first two apart. @param {State} state @param {Answer} answer */
const apart = (state, { tell_apart, ranked }) =>
  tell_apart.length
    ? html`<ul class="sums">
        ${tell_apart.map(({ sign, speaks_for }) => {
          const trouble = nameOf(state, ranked[speaks_for].trouble);
          return html`<li>
            ${state.say("could_be.speaks_for", { sign: signOf(state, sign), trouble })}
          </li>`;
        })}
      </ul>`
    : nothing;

/** @param {State} state @param {Ranked} one @param {Suspected} suspected */
function cause(state, one, { trouble: chosen, choose }) {
  const row = state.rulebook.troubles[one.trouble];
  const name = nameOf(state, one.trouble);
  return html`<li class="cause stack">
    <div class="cause-head">
      <h3>${name}</h3>
      <span class="small soft">${state.say("could_be.points", { points: one.points })}</span>
    </div>
    <p>${state.say(`trouble.${one.trouble}.note`)}</p>
    <dl class="facts">
      ${fact(state, "for", weighed(state, one.for))}
      ${fact(state, "against", weighed(state, one.against))}
      ${fact(state, "missing", one.missing.map((sign) => signOf(state, sign)))}
    </dl>
    ${moved(state, one)}
    <button
      type="button"
      class="press"
      aria-pressed=${chosen === one.trouble ? "true" : "false"}
      aria-label=${state.say("screen.could_be.suspect_name", { trouble: name })}
      @click=${() => choose(one.trouble)}
    >
      ${state.say("screen.could_be.suspect")}
    </button>
    <details class="help">
      <summary>${state.say("screen.could_be.more", { trouble: name })}</summary>
      ${advice(state, row)}
    </details>
  </li>`;
}

/** @param {State} state @param {"for" | "against" | "missing"} name @param {string[]} told */
const fact = (state, name, told) =>
  told.length
    ? html`<dt>${state.say(`screen.could_be.${name}`)}</dt>
        <dd>
          <ul class="cause-signs">
            ${told.map((one) => html`<li>${one}</li>`)}
          </ul>
        </dd>`
    : nothing;

/** What else moves it: the weather that was logged, and the stage. @param {State} state @param {Ranked} one */
const moved = (state, one) =>
  one.weather.length || one.other_stage
    ? html`<ul class="sums small">
        ${one.weather.map(({ feature, value, factor }) => {
          const days = state.rulebook.ranking.weather_days;
          const told = state.say(`could_be.feature.${feature}`, { value, value_mm: value, days });
          const key = factor > 1 ? "likelier" : "less_likely";
          return html`<li>${state.say(`could_be.${key}`, { feature_words: told, factor })}</li>`;
        })}
        ${one.other_stage ? html`<li>${state.say("could_be.other_stage")}</li>` : nothing}
      </ul>`
    : nothing;

/** @param {State} state @param {Trouble} row */
const advice = (state, row) =>
  html`<div class="stack">
    <h4>${state.say("screen.could_be.first")}</h4>
    <ul class="sums">
      ${row.measures.map((one) => html`<li>${state.say(`measure.${one}`)}</li>`)}
    </ul>
    ${
      row.hygiene.length
        ? html`<h4>${state.say("screen.could_be.hygiene")}</h4>
            <ul class="sums">
              ${row.hygiene.map((one) => html`<li>${state.say(`hygiene.${one}`)}</li>`)}
            </ul>`
        : nothing
    }
    ${
      row.spread.length
        ? html`<p>
            ${state.say("screen.could_be.spread", {
              names: row.spread.map((one) => state.say(`spread.${one}`)).join(", "),
            })}
          </p>`
        : nothing
    }
    <p>
      ${state.say("screen.could_be.look_alikes", {
        names: row.look_alikes.map((one) => nameOf(state, one)).join(", "),
      })}
    </p>
    <p>
      ${state.say("screen.could_be.sample", { when: state.say(`sample.${row.sample}`) })}
    </p>
    <p class="small soft">
      ${state.say("screen.could_be.source", { source: sourcesOf(state, row) })}
    </p>
  </div>`;

/** The weightiest first. @param {State} state @param {Weighed[]} signs */
const weighed = (state, signs) =>
  [...signs]
    .sort((a, b) => b.weight - a.weight)
    .map(({ sign, weight }) =>
      state.say("could_be.weight", { sign: signOf(state, sign), weight }),
    );

/** The list of sources marks titles by stars. @param {State} state @param {Trouble} row */
const sourcesOf = ({ rulebook }, row) =>
  [row.source, ...(row.also ?? [])]
    .map((key) => rulebook.sources[key]?.replaceAll("*", "") ?? key)
    .join(" · ");

/** @param {State} state @param {string} sign */
const signOf = (state, sign) => state.say(`sign.${sign}`);

/** @param {State} state @param {string} trouble */
const nameOf = (state, trouble) => state.say(`trouble.${trouble}`);
