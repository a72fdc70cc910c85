// @ts-check
// The round: beds as numbered stops in walking order, each with the work that waits there.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { isOver, stepsOf } from "../parts/first_hour.js";
import { inTurns } from "../parts/in_turns.js";
import { toBed, toFinding, toPlanting, toRecord } from "../parts/paths.js";
import { press, pressLink } from "../parts/press.js";
import { rain } from "../parts/rain.js";
import { stopsOf } from "../parts/stops.js";
import { gist, messageOf, verbOf } from "../parts/telling.js";
import { title } from "../parts/title.js";
import { waterFinding } from "../parts/water_account.js";
import { handsWithheld, isUnknownWait, staleBand, unknownBand } from "../parts/withheld.js";
import { work } from "../parts/work.js";
import { greeting, progress } from "./greeting.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../parts/stops.js").Stop} Stop */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const isBegun = isOver(stepsOf(state));
  const isEmpty = !state.beds.length && !state.plantings.length;
  // Until the log has come over once, nobody knows whether the garden is a new one.
  const isKnown = !isEmpty || state.knownAtMs !== null;
  if (!isBegun && isEmpty && isKnown) return greeting(state, actions);
  const stops = stopsOf(state);
  const first = stops.filter((stop) => !stop.lastBecause);
  const last = stops.filter((stop) => stop.lastBecause);
  return html`${title(state.say("screen.round.title"), isKnown ? { line: tally(state) } : {})}
    ${isBegun || isEmpty ? nothing : goOnBeginning(state)} ${staleBand(state)}
    ${inTurns(
      [...first, ...last].map((stop) => 1 + stop.jobs.length),
      (count) => walk(state, actions, first, last, count),
      actions,
    )}
    ${rain(state, actions)}
    <section class="stack" aria-labelledby="round-else">
      <h2 id="round-else">${state.say("screen.round.else")}</h2>
      <div class="presses">
        ${pressLink(state.say("action.write_other"), "#/record", "press-field")}
        ${pressLink(state.say("action.scan"), "#/scan", "press-field")}
        ${pressLink(state.say("action.new_bed"), "#/new/bed", "press-field")}
        ${pressLink(state.say("action.new_planting"), "#/new/planting", "press-field")}
        ${
          state.session?.role === "lead"
            ? pressLink(state.say("action.order_walk"), "#/walk", "press-field")
            : nothing
        }
      </div>
    </section>`;
}

/**
 * The stops that are to be drawn by now: in walking order, and then what is visited last.
 * @param {State} state @param {Actions} actions @param {Stop[]} first @param {Stop[]} last
 * @param {number} count
 */
function walk(state, actions, first, last, count) {
  const late = last.slice(0, Math.max(0, count - first.length));
  return html`<ol class="stops">
      ${list(state, actions, first.slice(0, count), 1)}
    </ol>
    ${
      late.length
        ? html`<section class="round-aside-part" aria-labelledby="round-last">
            <h2 id="round-last" class="round-aside">${state.say("screen.round.last")}</h2>
            <ol class="stops" start=${first.length + 1}>
              ${list(state, actions, late, first.length + 1)}
            </ol>
          </section>`
        : nothing
    }`;
}

/** @param {State} state @param {Actions} actions @param {Stop[]} stops @param {number} from */
const list = (state, actions, stops, from) =>
  repeat(
    stops,
    (stop) => stop.key,
    (stop, at) => oneStop(state, actions, stop, from + at),
  );

/** The first steps stay at hand until each is done or left out. @param {State} state */
const goOnBeginning = (state) =>
  html`<div class="chosen">
    <p>${state.say("screen.greeting.again")}: ${progress(state, stepsOf(state))}</p>
    ${pressLink(state.say("screen.greeting.go_on"), "#/start", "press-field")}
  </div>`;

/** "3 late, 4 due, 1 withheld" @param {State} state */
function tally(state) {
  const count = (/** @type {string} */ name) =>
    state.findings.filter((finding) => finding.state === name).length;
  const [late, due, withheld] = [count("overdue"), count("due"), count("blocked")];
  const unknown = state.findings.filter((finding) => isUnknownWait(state, finding)).length;
  return html`<span class="round-tally"
    >${state.say("screen.value.day", { at_day: state.today })}.
    ${
      late + due + withheld
        ? state.say("screen.round.tally", { late, due, withheld })
        : state.say("screen.round.nothing")
    }
    ${unknown ? state.say("screen.round.unknown", { count: unknown }) : nothing}</span
  >`;
}

/** @param {State} state @param {Actions} actions @param {Stop} stop @param {number} number */
function oneStop(state, actions, stop, number) {
  const { bed, jobs, others, lastBecause, closedBy } = stop;
  const look = `${lastBecause ? "stop-aside" : ""} ${jobs.length ? "" : "stop-quiet"}`;
  return html`<li class="stop ${look}">
    <span class="stop-number" aria-hidden="true">${number}</span>
    <div class="stop-head">
      <h2>
        ${
          bed
            ? html`<a href=${toBed(bed.id)}>${state.say("screen.who.bed", { bed: bed.id })}</a>`
            : state.say("screen.round.no_bed")
        }
      </h2>
      <span class="stop-growing">${growing(state, stop)}</span>
    </div>
    ${
      lastBecause
        ? html`<p class="stop-why">
            ${lastBecause}
            ${
              closedBy
                ? html`<a href=${toFinding(closedBy.key)}>${state.say("action.why")}</a>`
                : nothing
            }
          </p>`
        : nothing
    }
    ${
      jobs.length
        ? html`<ul class="work-list">
            ${repeat(
              jobs,
              (job) => job.key,
              (job) => work(state, actions, job),
            )}
          </ul>`
        : html`<p class="soft small">${state.say("screen.round.no_work")}</p>`
    }
    ${
      others.length && bed
        ? html`<p class="stop-more">
            <a href=${toBed(bed.id)}>${state.say("screen.round.more", { count: others.length })}</a>
          </p>`
        : nothing
    }
    ${bed ? notKnown(state, bed.id) : nothing}
    ${bed ? quickly(state, actions, bed.id) : nothing}
  </li>`;
}

/**
 * What a treatment left open about going in here; that nothing is known at all stands at the top.
 * @param {State} state @param {string} bed
 */
function notKnown(state, bed) {
  const known = handsWithheld(state, { bed });
  const isOpen = known?.state === "unknown" && known.keys.length > 0;
  return isOpen
    ? unknownBand(state, state.say("screen.withheld.hand_work_unknown"), known)
    : nothing;
}

/** What stands here; plants in no bed are all told. @param {State} state @param {Stop} stop */
const growing = (state, { bed, plantings }) => {
  const told = bed ? plantings.filter((planting) => planting.standing) : plantings;
  return told.length
    ? told.map(
        (planting) =>
          html`<a href=${toPlanting(planting.id)}
            >${state.say("screen.who.planting", { planting: planting.id })}</a
          >`,
      )
    : state.say("screen.round.empty");
};

/**
 * Water as last time with one tap, and the way to everything else here.
 * @param {State} state @param {Actions} actions @param {string} bed
 */
function quickly(state, actions, bed) {
  const last = state.look.events({ bed, kind: "water", limit: 1 }).find((event) => !event.planting);
  const verb = verbOf(state, "water");
  const amount = last ? gist(state, "water", last.details) : "";
  const name = last
    ? state.say("screen.round.water_name", { bed, verb, amount })
    : state.say("screen.round.water_first", { bed, verb });
  const account = waterFinding(state, bed);
  return html`${
    account?.message.key === "balance.noted"
      ? html`<p class="soft small">${messageOf(state, account)}</p>`
      : nothing
  }
  <div class="stop-quick">
    ${
      last
        ? press(
            state.say("screen.round.water", { verb, amount }),
            () => actions.record({ kind: "water", subjects: { bed }, details: last.details }),
            "press-field",
            name,
          )
        : pressLink(`${verb} …`, toRecord("water", { bed }), "press-field", name)
    }
    ${pressLink(
      state.say("action.more_here"),
      toBed(bed),
      "press-quiet press-field",
      state.say("screen.round.more_name", { bed }),
    )}
  </div>`;
}
