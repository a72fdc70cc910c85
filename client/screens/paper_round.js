// @ts-check
// The week's round on paper, for helpers without a phone: a box to tick and room to write.
import { civilDate } from "../log/moment.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { paperHead } from "../parts/paper_head.js";
import { titleOf, whenOf } from "../parts/telling.js";
import { lastDayOfWeek, weekStops } from "../parts/week.js";
import { staleBand } from "../parts/withheld.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../parts/week.js").WeekStop} WeekStop */

/** @param {State} state */
export const view = (state) =>
  html`${paperHead(state, state.say("screen.paper.round.title"), {
    line: state.say("screen.paper.round.week", {
      first_day: state.today,
      last_day: lastDayOfWeek(state),
    }),
    note: state.say("screen.paper.round.note"),
  })}
  ${staleBand(state)}
  <ol class="week">
    ${weekStops(state)
      .filter(({ stop, jobs, waits }) => stop.bed || jobs.length || waits.length)
      .map((stop, at) => oneStop(state, stop, at + 1))}
  </ol>`;

/** @param {State} state @param {WeekStop} at @param {number} number */
function oneStop(state, { stop, jobs, waits }, number) {
  const name = stop.bed
    ? state.say("screen.who.bed", { bed: stop.bed.id })
    : state.say("screen.round.no_bed");
  const because = stop.closedBy ? undefined : stop.lastBecause;
  const groups = byPlanting(jobs);
  const only = groups.length === 1 ? groups[0][0] : "";
  return html`<li class="week-stop">
    <h2>
      ${number}. ${name}${only ? html`: <small>${plantingName(state, only)}</small>` : nothing}
    </h2>
    ${[...waits, ...(because ? [because] : [])].map((wait) => html`<p class="week-wait">${wait}</p>`)}
    <table class="week-jobs">
      <thead>
        <tr>
          ${["work", "amount", "initials"].map((head) => {
            const words = state.say(`screen.paper.round.${head}`);
            return html`<th scope="col">
              ${number === 1 ? words : html`<span class="unseen">${words}</span>`}
            </th>`;
          })}
        </tr>
      </thead>
      <tbody>
        ${groups.map(
          ([planting, some]) =>
            html`${planting && !only ? forPlanting(state, planting) : nothing}${some.map((job) =>
              line(jobWords(state, job, waits)),
            )}`,
        )}
        ${line(html`<span class="soft">${state.say("screen.paper.round.else")}</span>`)}
      </tbody>
    </table>
  </li>`;
}

/**
 * What concerns the whole bed comes first, under no name.
 * @param {Finding[]} jobs @returns {[string, Finding[]][]}
 */
function byPlanting(jobs) {
  /** @type {Map<string, Finding[]>} */
  const groups = new Map();
  for (const job of jobs) {
    const name = job.subject.planting ?? "";
    groups.set(name, [...(groups.get(name) ?? []), job]);
  }
  return [...groups].sort(([one], [other]) => Number(one !== "") - Number(other !== ""));
}

/** @param {State} state @param {string} planting */
const plantingName = (state, planting) => state.say("screen.who.planting", { planting });

/** @param {State} state @param {string} planting */
const forPlanting = (state, planting) =>
  html`<tr>
    <th scope="rowgroup" colspan="3">${plantingName(state, planting)}</th>
  </tr>`;

/** @param {State} state @param {Finding} job @param {string[]} waits those of its bed */
function jobWords(state, job, waits) {
  const { plants } = job.subject;
  const some = plants?.length ? `, ${state.say("screen.paper.plants", { plants })}` : "";
  const when = shortWhen(state, job);
  if (job.state !== "blocked") return html`${titleOf(state, job)}${some}: ${when}`;
  // The bed's own waits stand above in full.
  const isTold = waits.some((wait) => wait.endsWith(when));
  return html`${titleOf(state, job)}${some}:
    <b>${isTold ? state.say("screen.paper.round.must_wait") : when}</b>`;
}

/** Days of one week need no year. @param {State} state @param {Finding} job */
function shortWhen(state, job) {
  if (job.state === "due" && job.closes !== null)
    return state.say("screen.paper.round.until", { date: shortDay(state, job.closes) });
  if (job.state === "upcoming" && job.opens !== null)
    return state.say("screen.paper.round.from", { date: shortDay(state, job.opens) });
  return whenOf(state, job);
}

/** @param {State} state @param {number} day */
function shortDay(state, day) {
  const [, month, number] = civilDate(day);
  return state.say("date.short", { number, month: state.say(`date.month.${month}`) });
}

/** @param {unknown} words */
const line = (words) =>
  html`<tr>
    <td><span class="tick" aria-hidden="true"></span><span>${words}</span></td>
    <td></td>
    <td></td>
  </tr>`;
