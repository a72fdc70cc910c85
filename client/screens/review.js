// @ts-check
// A season looked back on: what each planting gave and lost, side by side, and what it rests on.
import { civilDate } from "../log/moment.js";
import { printPress } from "../parts/paper_head.js";
import { toPlanting } from "../parts/paths.js";
import { report } from "../parts/report.js";
import { choiceOf, messageOf, titleOf } from "../parts/telling.js";
import { title } from "../parts/title.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {{cause: string, count: number | null, mass_g: number | null}} Loss */
/**
 * @typedef {object} Told
 * @property {string} planting
 * @property {number} from_day
 * @property {number} last_day
 * @property {number | null} plants
 * @property {number | null} mean_plants
 * @property {number | null} picked_count
 * @property {number | null} picked_g
 * @property {number | null} count_per_plant
 * @property {number | null} g_per_plant
 * @property {number | null} g_per_m2
 * @property {Loss[]} losses
 * @property {{cause: string, plants_count: number}[]} removed
 * @property {Finding[]} findings
 * @property {import("../types.js").Message[]} water
 * @property {{entries: Record<string, number>, picks_weighed: number}} rests_on
 */
/**
 * @typedef {{season: number, plantings: Told[], losses: Loss[], treatments: LoggedEvent[],
 *   thirst: Record<string, unknown> | null}} Review
 */

const HEADS = ["planting", "plants", "fruits", "kg", "per_plant", "per_m2", "lost"];

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const [thisYear] = civilDate(state.today);
  const season = Number(state.route.query.season) || thisYear;
  return html`${title(state.say("screen.review.title", { season_year: season }), {
      from: { words: state.say("screen.shed.name"), href: "#/shed" },
      line: state.say("screen.review.line"),
    })}
    <p class="row">
      ${[season - 1, season + 1]
        .filter((year) => year <= thisYear)
        .map(
          (year) =>
            html`<a class="press press-quiet" href="#/review?season=${year}"
              >${state.say("screen.review.other", { season_year: year })}</a
            >`,
        )}
    </p>
    ${report(state, actions, `review?season=${season}`, "screen.review.ask", (answer) =>
      drawn(state, /** @type {Review} */ (answer)),
    )}`;
}

/** @param {State} state @param {Review} review */
function drawn(state, review) {
  if (!review.plantings.length) return html`<p>${state.say("screen.review.empty")}</p>`;
  return html`${printPress(state)}
    <section class="stack" aria-labelledby="review-yield">
      <h2 id="review-yield">${state.say("screen.review.yield")}</h2>
      ${table(state, review.plantings)}
      <p class="soft small">${state.say("screen.review.no_cause")}</p>
    </section>
    <section class="stack" aria-labelledby="review-losses">
      <h2 id="review-losses">${state.say("screen.review.losses")}</h2>
      ${
        review.losses.length
          ? html`<ul>
              ${review.losses.map((loss) => html`<li>${lossText(state, loss)}</li>`)}
            </ul>`
          : html`<p class="soft">${state.say("screen.review.no_losses")}</p>`
      }
    </section>
    <section class="stack" aria-labelledby="review-each">
      <h2 id="review-each">${state.say("screen.review.each")}</h2>
      ${review.plantings.map((told) => each(state, told))}
    </section>
    ${review.thirst ? thirst(state, review.thirst) : nothing}
    <section class="stack" aria-labelledby="review-treated">
      <h2 id="review-treated">${state.say("screen.review.treated")}</h2>
      <p>
        ${state.say("screen.review.treatments", { count: review.treatments.length })}
        ${state.say("caution.label")}
      </p>
    </section>`;
}

/** @param {State} state @param {Record<string, unknown>} told */
const thirst = (state, told) =>
  html`<section class="stack" aria-labelledby="review-thirst">
    <h2 id="review-thirst">${state.say("screen.review.air")}</h2>
    <p>
      ${state.say("screen.review.thirst", told)}
      ${told.station_days ? state.say("screen.review.station", told) : nothing}
    </p>
  </section>`;

/** @param {State} state @param {Told[]} plantings */
const table = (state, plantings) =>
  html`<div
    class="table-scroll"
    tabindex="0"
    role="group"
    aria-label=${state.say("screen.review.yield")}
  >
    <table>
      <thead>
        <tr>
          ${HEADS.map(
            (head, at) =>
              html`<th scope="col" class=${at ? "figure" : ""}>
                ${state.say(`screen.review.head.${head}`)}
              </th>`,
          )}
        </tr>
      </thead>
      <tbody>
        ${plantings.map((told) => row(state, told))}
      </tbody>
    </table>
  </div>`;

/** @param {State} state @param {Told} told */
function row(state, told) {
  const figure = (/** @type {number | null} */ amount) =>
    amount === null ? "–" : state.say("screen.value.number", { amount });
  const kg = (/** @type {number | null} */ grams) => figure(grams === null ? null : grams / 1000);
  return html`<tr>
    <th scope="row">
      <a href=${toPlanting(told.planting)}
        >${state.say("screen.who.planting", { planting: told.planting })}</a
      >
    </th>
    <td class="figure">${figure(told.mean_plants)}</td>
    <td class="figure">${figure(told.picked_count)}</td>
    <td class="figure">${kg(told.picked_g)}</td>
    <td class="figure">${perPlant(state, told)}</td>
    <td class="figure">${kg(told.g_per_m2)}</td>
    <td class="figure">${lostShare(state, told)}</td>
  </tr>`;
}

/** Weighed where it was weighed, else counted. @param {State} state @param {Told} told */
function perPlant(state, { g_per_plant: grams, count_per_plant: count }) {
  if (grams !== null) return state.say("screen.review.kg", { amount: grams / 1000 });
  return count === null ? "–" : state.say("screen.review.fruits", { amount: count });
}

/** @param {State} state @param {Told} told */
function lostShare(state, { losses, picked_count: picked }) {
  const lost = losses.reduce((total, loss) => total + (loss.count ?? 0), 0);
  if (!lost || picked === null) return lost || "–";
  return state.say("screen.review.share", { lost_share: lost / (lost + picked) });
}

/** @param {State} state @param {Loss} loss */
const lossText = (state, { cause, count, mass_g: mass }) =>
  state.say(count === null ? "screen.review.loss_mass" : "screen.review.loss", {
    what: choiceOf(state, "discard", "cause", cause),
    count,
    kg: (mass ?? 0) / 1000,
  });

/** @param {State} state @param {Told} told */
const each = (state, told) =>
  html`<details class="help">
    <summary>${state.say("screen.who.planting", { planting: told.planting })}</summary>
    <p>
      ${state.say("screen.review.stood", { from_day: told.from_day, last_day: told.last_day })}
    </p>
    ${told.losses.map((loss) => html`<p>${lossText(state, loss)}</p>`)}
    ${told.removed.map(
      ({ cause, plants_count: count }) =>
        html`<p>
          ${state.say("screen.review.removed", {
            count,
            what: choiceOf(state, "remove_plant", "cause", cause),
          })}
        </p>`,
    )}
    ${told.findings.map(
      (finding) =>
        html`<p><strong>${titleOf(state, finding)}.</strong> ${messageOf(state, finding)}</p>`,
    )}
    ${told.water.map((why) => html`<p>${state.say(`reason.${why.key}`, why.values)}</p>`)}
    <p class="soft small">
      ${state.say("screen.review.rests_on", {
        picks: told.rests_on.entries.pick ?? 0,
        weighed: told.rests_on.picks_weighed,
        waters: told.rests_on.entries.water ?? 0,
        discards: told.rests_on.entries.discard ?? 0,
      })}
      ${told.plants === null ? state.say("screen.review.no_plants") : nothing}
    </p>
  </details>`;
