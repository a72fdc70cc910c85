// @ts-check
// Next season: what is wished for, and the shed's proposal of a bed for each wish, with reasons.
import { civilDate } from "../log/moment.js";
import { reasons } from "../parts/followers.js";
import { lines } from "../parts/lines.js";
import { toBed, toRecord } from "../parts/paths.js";
import { pressLink } from "../parts/press.js";
import { report } from "../parts/report.js";
import { title } from "../parts/title.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Message} Message */
/**
 * @typedef {{wish: string, crop: string, cost: number, reasons: Message[],
 *   findings: Finding[]}} Told
 */
/** @typedef {{bed: string, placed: Told[]}} BedTold */
/**
 * @typedef {{season: number, day: number, beds: BedTold[], unmet: Told[], cost: number,
 *   gap: number, is_best: boolean}} Proposal
 */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const next = civilDate(state.today)[0] + 1;
  const season = Number(state.route.query.season) || next;
  const wishes = state.look
    .events({ kind: "wish" })
    .filter((event) => event.details.season === season);
  return html`${title(state.say("screen.next_season.title", { season_year: season }), {
      from: { words: state.say("screen.shed.name"), href: "#/shed" },
      line: state.say("screen.next_season.line"),
    })}
    <p class="row">
      ${[next - 1, next, next + 1]
        .filter((year) => year !== season)
        .map(
          (year) =>
            html`<a class="press press-quiet" href="#/next-season?season=${year}"
              >${state.say("screen.next_season.other", { season_year: year })}</a
            >`,
        )}
    </p>
    <section class="stack" aria-labelledby="season-wishes">
      <h2 id="season-wishes">${state.say("screen.next_season.wishes")}</h2>
      ${
        wishes.length
          ? lines(state, actions, wishes)
          : html`<p class="soft">${state.say("screen.next_season.no_wishes")}</p>`
      }
      <div class="row">
        ${pressLink(state.say("screen.next_season.wish_for"), toRecord("wish"))}
      </div>
    </section>
    ${report(state, actions, `proposal?season=${season}`, "screen.next_season.ask", (answer) =>
      drawn(state, /** @type {Proposal} */ (answer)),
    )}`;
}

/** @param {State} state @param {Proposal} proposal */
const drawn = (state, proposal) =>
  html`<p>${state.say("screen.next_season.day", { start_day: proposal.day })}</p>
    <section class="stack" aria-labelledby="season-beds">
      <h2 id="season-beds">${state.say("screen.next_season.beds")}</h2>
      ${proposal.beds.map((told) => bedOf(state, told))}
    </section>
    ${
      proposal.unmet.length
        ? html`<section class="stack" aria-labelledby="season-unmet">
            <h2 id="season-unmet">${state.say("screen.next_season.unmet")}</h2>
            ${proposal.unmet.map((told) => unmetOf(state, told))}
          </section>`
        : nothing
    }
    <p>
      ${state.say(`screen.next_season.${proposal.is_best ? "best" : "gap"}`, {
        points: proposal.cost,
        gap: proposal.gap,
      })}
    </p>
    <p class="soft small">${state.say("screen.followers.weights")}</p>`;

/** @param {State} state @param {Told} told */
const unmetOf = (state, told) =>
  html`<div>
    <p><strong>${state.say("screen.next_season.wish", { crop: told.crop })}</strong></p>
    ${why(state, told)}
  </div>`;

/** @param {State} state @param {BedTold} told */
const bedOf = (state, { bed, placed }) =>
  html`<div>
    <h3><a href=${toBed(bed)}>${state.say("screen.who.bed", { bed })}</a></h3>
    ${
      placed.length
        ? placed.map(
            (told) =>
              html`<p><strong>${placedWords(state, told)}</strong></p>
                ${why(state, told)}`,
          )
        : html`<p class="soft">${state.say("screen.next_season.empty_bed")}</p>`
    }
  </div>`;

/** @param {State} state @param {Told} told */
const placedWords = (state, { crop, cost }) =>
  state.say("screen.next_season.placed", { crop, points: cost });

/** @param {State} state @param {Told} told */
const why = (state, told) =>
  html`<ul class="small">
      ${told.reasons.map(({ key, values }) => html`<li>${state.say(key, values)}</li>`)}
    </ul>
    ${told.findings.length ? reasons(state, told.findings) : nothing}`;
