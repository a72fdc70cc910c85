// @ts-check
// The season in pictures: of the whole garden, of a bed, or of one planting.
import { civilDate } from "../log/moment.js";
import { airChart } from "../parts/air_chart.js";
import { lookedChart } from "../parts/looked_chart.js";
import { toBed, toEvening, toPlanting } from "../parts/paths.js";
import { pickCharts } from "../parts/pick_chart.js";
import { pressLink } from "../parts/press.js";
import { rotationPicture } from "../parts/rotation_picture.js";
import { lost, title } from "../parts/title.js";
import { accountChart } from "../parts/water_account.js";
import { waterChart } from "../parts/water_chart.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */

/** @param {State} state */
export function view(state) {
  const { planting: plantingId, bed: bedId } = state.route.query;
  if (plantingId) {
    const planting = state.look.planting(plantingId);
    return planting ? ofPlanting(state, planting) : lost(state);
  }
  if (bedId) return state.look.bed(bedId) ? ofBed(state, bedId) : lost(state);
  return ofGarden(state);
}

/** @param {State} state */
function ofGarden(state) {
  const season = seasonOf(state);
  return html`${title(state.say("screen.evening.title"), {
    from: { words: state.say("screen.shed.name"), href: "#/shed" },
    line: state.say("screen.evening.line"),
  })}
  ${part(
    "beds",
    state.say("screen.evening.beds"),
    html`<ul class="go-list">
      ${state.beds.map(
        ({ id }) =>
          html`<li>
            <a href=${toEvening({ bed: id })}
              ><span>${state.say("screen.who.bed", { bed: id })}</span></a
            >
          </li>`,
      )}
    </ul>`,
  )}
  ${part(
    "picks",
    state.say("screen.evening.picks", { season_year: season }),
    html`<div class="charts">
      ${pickCharts(
        state,
        "picks",
        state.plantings.filter((planting) => lastPickYear(state, planting) === season),
      )}
    </div>`,
  )}
  ${part("rotation", state.say("screen.rotation.title"), rotationPicture(state))}`;
}

/** @param {State} state @param {string} bed */
function ofBed(state, bed) {
  const lines = state.look.waterLines(bed);
  const even = state.findings.find(
    ({ subject, rule }) =>
      subject.bed === bed && !subject.planting && state.look.rule(rule)?.shape === "evenness",
  );
  const plantings = state.look
    .plantingsOf(bed)
    .filter((planting) => planting.from_day !== undefined)
    .sort((a, b) => (b.from_day ?? 0) - (a.from_day ?? 0));
  const [now, before] = [
    plantings.filter(({ until_day }) => until_day === undefined),
    plantings.filter(({ until_day }) => until_day !== undefined),
  ];
  return html`${title(state.say("screen.evening.of", { who: state.say("screen.who.bed", { bed }) }), {
    from: { words: state.say("screen.evening.name"), href: toEvening() },
  })}
  <p>${pressLink(state.say("screen.who.bed", { bed }), toBed(bed), "press-quiet")}</p>
  ${part(
    "water",
    state.say("screen.evening.water"),
    html`<div class="charts">
      ${
        lines?.length
          ? accountChart(state, bed, lines)
          : html`<p class="soft">${state.say("screen.evening.no_account")}</p>`
      }
      ${
        even
          ? waterChart(state, even, bed)
          : html`<p class="soft">${state.say("screen.chart.none")}</p>`
      }
    </div>`,
  )}
  ${now.map((planting) =>
    part(
      `of-${planting.id}`,
      state.say("screen.who.planting", { planting: planting.id }),
      plantingCharts(state, planting),
    ),
  )}
  ${
    before.length
      ? part(
          "before",
          state.say("screen.bed.before"),
          html`<ul class="go-list">
            ${before.map(
              ({ id }) =>
                html`<li>
                  <a href=${toEvening({ planting: id })}
                    ><span>${state.say("screen.who.planting", { planting: id })}</span></a
                  >
                </li>`,
            )}
          </ul>`,
        )
      : nothing
  }`;
}

/** @param {State} state @param {Planting} planting */
function ofPlanting(state, planting) {
  const who = state.say("screen.who.planting", { planting: planting.id });
  const { bed } = planting;
  return html`${title(state.say("screen.evening.of", { who }), {
    from: bed
      ? { words: state.say("screen.who.bed", { bed }), href: toEvening({ bed }) }
      : { words: state.say("screen.evening.name"), href: toEvening() },
  })}
  <p>${pressLink(who, toPlanting(planting.id), "press-quiet")}</p>
  ${plantingCharts(state, planting)}`;
}

/** @param {State} state @param {Planting} planting */
function plantingCharts(state, planting) {
  const air = state.look.series.air(planting.id);
  const isAirKnown = air?.days.some(({ how }) => how !== "missing");
  const looked = state.look.series.looked(planting.id);
  return html`<div class="charts">
    ${pickCharts(state, `picked-${planting.id}`, [planting])}
    ${
      air && isAirKnown
        ? airChart(state, planting.id, air)
        : html`<p class="soft">${state.say(air ? "screen.air.none" : "screen.air.no_limits")}</p>`
    }
    ${
      looked.length
        ? looked.map((one) => lookedChart(state, planting.id, one))
        : html`<p class="soft">${state.say("screen.looked.none")}</p>`
    }
  </div>`;
}

/** @param {string} name @param {string} words @param {unknown} content */
const part = (name, words, content) =>
  html`<section class="stack" aria-labelledby="evening-${name}">
    <h2 id="evening-${name}">${words}</h2>
    ${content}
  </section>`;

/** The year of the last pick in the log, else this one. @param {State} state */
function seasonOf(state) {
  const years = state.plantings.flatMap((planting) => lastPickYear(state, planting) ?? []);
  return years.length ? Math.max(...years) : civilDate(state.today)[0];
}

/** @param {State} state @param {Planting} planting */
function lastPickYear(state, { id }) {
  const last = state.look.series.picks(id, "count").days.at(-1);
  return last && civilDate(last.day)[0];
}
