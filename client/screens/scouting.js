// @ts-check
// What was looked for on the plants, round by round, as the shed works it out: shares with their
// limits, whether the affected plants stand together, how disease went on, what traps caught.
import { toPlanting } from "../parts/paths.js";
import { report } from "../parts/report.js";
import { share } from "../parts/share.js";
import { title } from "../parts/title.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Message} Message */
/**
 * @typedef {{day: number, looked: number | null, affected: number | null, mean: number | null,
 *   affected_share: number | null, low_share: number | null, high_share: number | null,
 *   per: string, decision: string, hot_spot: Message,
 *   clumping: {ratio: number, chance: number, units: number} | null}} Round
 * @typedef {{from_day: number, until_day: number, area: number, relative_share: number}} Progress
 * @typedef {{planting: string, organism: string, is_helpful: boolean, sessions: Round[],
 *   progress: Progress | null}} Looked
 * @typedef {{week_day: number, count: number, nights: number | null, a_week: number | null}} Week
 * @typedef {{trap: string, organism: string, weeks: Week[]}} Caught
 * @typedef {{looked: Looked[], catches: Caught[]}} Scouting
 */

const HEADS = ["day", "looked", "affected", "share", "mean", "decision", "hot_spot"];

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  return html`${title(state.say("screen.scouting.title"), {
      from: { words: state.say("screen.shed.name"), href: "#/shed" },
      line: state.say("screen.scouting.line"),
    })}
    ${report(state, actions, "scouting", "screen.scouting.ask", (answer) =>
      drawn(state, /** @type {Scouting} */ (answer)),
    )}`;
}

/** @param {State} state @param {Scouting} told */
function drawn(state, { looked, catches }) {
  if (!looked.length && !catches.length) return html`<p>${state.say("screen.scouting.none")}</p>`;
  return html`${together(state, looked).map((alike, at) => part(state, alike, at))}
  ${
    catches.length
      ? html`<section class="stack" aria-labelledby="scouting-traps">
          <h2 id="scouting-traps">${state.say("screen.scouting.traps")}</h2>
          ${catches.map((one) => trap(state, one))}
        </section>`
      : nothing
  }`;
}

/**
 * A look at the whole garden is counted for every planting: told once, with the plantings that
 * stood there then.
 * @param {State} state @param {Looked[]} looked @returns {Looked[][]}
 */
function together(state, looked) {
  /** @type {Map<string, Looked[]>} */
  const alike = new Map();
  for (const one of looked) {
    const { planting, organism, sessions } = one;
    const until = state.look.planting(planting)?.until_day ?? Infinity;
    if (sessions.every(({ day }) => day > until)) continue;
    const isWide = sessions.every((session) => session.looked === null);
    const said = JSON.stringify([organism, isWide ? sessions : planting]);
    alike.set(said, [...(alike.get(said) ?? []), one]);
  }
  return [...alike.values()];
}

/** @param {State} state @param {Looked[]} alike @param {number} at */
function part(state, alike, at) {
  const { organism, sessions, progress } = alike[0];
  const name = state.say("screen.scouting.organism", { organism });
  return html`<section class="stack" aria-labelledby="scouting-${at}">
    <h2 id="scouting-${at}">
      ${name}:
      ${alike.map(
        ({ planting }, nth) =>
          html`${nth ? ", " : ""}<a href=${toPlanting(planting)}
              >${state.say("screen.who.planting", { planting })}</a
            >`,
      )}
    </h2>
    <div class="table-scroll" tabindex="0" role="group" aria-label=${name}>
      <table>
        <thead>
          <tr>
            ${HEADS.map(
              (head) => html`<th scope="col">${state.say(`screen.scouting.head.${head}`)}</th>`,
            )}
          </tr>
        </thead>
        <tbody>
          ${sessions.map((session) => row(state, session))}
        </tbody>
      </table>
    </div>
    ${sessions.map((session) => counts(state, session))}
    ${progress ? html`<p>${state.say("screen.scouting.progress", { ...progress })}</p>` : nothing}
  </section>`;
}

/** @param {State} state @param {Round} session */
function row(state, session) {
  const figure = (/** @type {number | null} */ amount) =>
    amount === null ? "–" : state.say("screen.value.number", { amount });
  const { hot_spot: spot } = session;
  return html`<tr>
    <th class="when" scope="row">${state.say("screen.scouting.on", { day: session.day })}</th>
    <td class="figure">${figure(session.looked)}</td>
    <td class="figure">${figure(session.affected)}</td>
    <td>${share(state, session)}</td>
    <td>${mean(state, session)}</td>
    <td>${state.say(`screen.scouting.decision.${session.decision}`)}</td>
    <td>${state.say(`screen.scouting.${spot.key}`, spot.values)}</td>
  </tr>`;
}

/** @param {State} state @param {Round} session */
const mean = (state, { mean: found, per }) =>
  found === null ? "–" : state.say("screen.scouting.mean", { mean: found, per_what: per });

/** How counts of single plants lie. @param {State} state @param {Round} session */
function counts(state, { day, clumping }) {
  if (clumping === null) return nothing;
  return html`<p class="small">
    ${state.say("screen.scouting.on", { day })}:
    ${state.say("screen.scouting.clumping", { ...clumping, chance_share: clumping.chance })}
  </p>`;
}

/** @param {State} state @param {Caught} caught */
const trap = (state, { trap: name, organism, weeks }) =>
  html`<div>
    <h3>${state.say("screen.scouting.trap", { trap: name, organism })}</h3>
    <ul>
      ${weeks.map(
        (week) =>
          html`<li>
            ${state.say(`screen.scouting.${week.a_week === null ? "week_open" : "week"}`, {
              ...week,
            })}
          </li>`,
      )}
    </ul>
  </div>`;
