// @ts-check
// What was picked so far, as lines that climb with each pick; several plantings side by side.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";
import { areaOf, perSquareMetre } from "../garden/series/picks.js";
import { amountOf, amountOrNot, dayOf, withUnitOf } from "./chart/amounts.js";
import { chart } from "./chart/chart.js";
import { steps } from "./chart/lines.js";
import { letter, letterOf, ring } from "./chart/marks.js";
import { axes, plotOf } from "./chart/plot.js";
import { table } from "./chart/table.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../garden/series/picks.js").Picks} Picks */
/** @typedef {import("../garden/series/picks.js").Measure} Measure */
/** @typedef {{planting: Planting, picks: Picks}} Course */
/** @typedef {{unit: string, name: "mass" | "count" | "area", scale: number}} How */

/** The log keeps grams; a harvest is told in kilograms. */
const IN_KG = 1000;
const HOW = /** @type {Record<"mass" | "count" | "area", How>} */ ({
  mass: { name: "mass", unit: "kg", scale: IN_KG },
  count: { name: "count", unit: "", scale: 1 },
  area: { name: "area", unit: "kg/m²", scale: IN_KG },
});
const DASHES = 5;
const APART = 12;

/**
 * The charts of what came from some plantings: by mass where it was weighed, else by number, and for
 * each square metre where the ground is known. Says what is left out and why.
 * @param {State} state @param {string} id @param {Planting[]} plantings
 */
export function pickCharts(state, id, plantings) {
  const by = (/** @type {Measure} */ measure) =>
    plantings
      .map((planting) => ({ planting, picks: state.look.series.picks(planting.id, measure) }))
      .filter(({ picks }) => picks.total !== null);
  const [weighed, counted] = [by("mass_g"), by("count")];
  // A planting that was never weighed is shown by its number.
  const known = new Set(weighed.map(({ planting }) => planting.id));
  const onlyCounted = counted.filter(({ planting }) => !known.has(planting.id));
  if (!weighed.length && !onlyCounted.length)
    return html`<p class="soft">${state.say("screen.picked.none")}</p>`;
  return html`${weighed.length ? courses(state, `${id}-mass`, weighed, HOW.mass) : nothing}
  ${onlyCounted.length ? courses(state, `${id}-count`, onlyCounted, HOW.count) : nothing}
  ${weighed.length ? byArea(state, `${id}-area`, weighed) : nothing}`;
}

/** @param {State} state @param {string} id @param {Course[]} weighed */
function byArea(state, id, weighed) {
  const told = weighed.flatMap(({ planting, picks }) => {
    const area = areaOf(planting);
    return area === null ? [] : [{ planting, picks: perSquareMetre(picks, area) }];
  });
  const without = weighed.filter(({ planting }) => areaOf(planting) === null);
  return html`${told.length ? courses(state, id, told, HOW.area) : nothing}
  ${without.map(
    ({ planting }) =>
      html`<p class="soft small">${state.say("screen.picked.no_area", { planting: planting.id })}</p>`,
  )}`;
}

/** @param {State} state @param {string} id @param {Course[]} courses @param {How} how */
function courses(state, id, courses, how) {
  const scaled = courses.map((course) => ({ ...course, days: daysOf(course.picks, how) }));
  const all = scaled.flatMap(({ days }) => days);
  const from = Math.min(...all.map(({ day }) => day)) - 1;
  const to = Math.max(from + 7, ...courses.map((course) => endOf(state, course)));
  const plot = plotOf(state, {
    ...{ from, to, low: 0, high: Math.max(...all.map(({ total }) => total)), unit: how.unit },
    isWhole: how.name === "count",
    tall: 150,
  });
  const isMany = courses.length > 1;
  return chart(state, {
    id,
    title: isMany
      ? state.say(`screen.picked.titles.${how.name}`)
      : state.say(`screen.picked.title.${how.name}`, { planting: courses[0].planting.id }),
    line: isMany ? mostOf(state, courses, how) : lineOf(state, courses[0], how),
    height: plot.height,
    drawing: svg`${axes(state, plot, {
      caption: withUnitOf(state, state.say(`screen.picked.axis.${how.name}`), how.unit),
      words: (amount) => amountOf(state, amount, how.unit),
    })}
      ${scaled.map(({ planting, picks, days }, at) => {
        const points = days.map(({ day, total }) => ({ day, value: total }));
        return [
          steps(plot, points, endOf(state, { planting, picks }), `chart-dash-${at % DASHES}`),
          days.filter((one) => one.left_out).map((one) => ring(plot.x(one.day), plot.y(one.total))),
        ];
      })}
      ${isMany ? letters(state, plot, scaled) : ""}`,
    signs: signs(state, courses, how),
    table: courseTable(state, scaled, how),
  });
}

/** @param {Picks} picks @param {How} how */
const daysOf = ({ days }, { scale }) =>
  days.map((one) => ({
    ...one,
    picked: one.picked === null ? null : one.picked / scale,
    total: one.total / scale,
  }));

/** A planting that stands has its total up to today. @param {State} state @param {Course} course */
function endOf(state, { planting, picks: { days } }) {
  const last = days[days.length - 1].day;
  return planting.until_day === undefined ? Math.max(last, state.today) : last;
}

/**
 * At the end of each line its letter, moved where two would lie on each other.
 * @param {State} state @param {import("./chart/plot.js").Plot} plot
 * @param {(Course & {days: {total: number}[]})[]} courses
 */
function letters(state, plot, courses) {
  const ends = courses
    .map((course, at) => ({
      at,
      x: Math.min(plot.x(endOf(state, course)) - 7, plot.right - 7),
      y: plot.y(course.days[course.days.length - 1].total) - 8,
    }))
    .sort((a, b) => b.y - a.y);
  let above = Infinity;
  return ends.map(({ at, x, y }) => {
    above = Math.min(y, above - APART);
    return letter(x, above, letterOf(at));
  });
}

/** How many there are, and which gave most. @param {State} state @param {Course[]} courses @param {How} how */
function mostOf(state, courses, how) {
  const most = courses.reduce((best, one) =>
    (one.picks.total ?? 0) > (best.picks.total ?? 0) ? one : best,
  );
  const count = courses.length;
  return `${state.say("screen.picked.most", { count })} ${lineOf(state, most, how)}`;
}

/** @param {State} state @param {Course} course @param {How} how */
function lineOf(state, { planting, picks }, { name, scale, unit }) {
  const amount = (picks.total ?? 0) / scale;
  const until_day = picks.days[picks.days.length - 1].day;
  const told = { planting: planting.id, picks: picks.picks, until_day };
  const size = name === "count" ? { count: amount } : { told: amountOf(state, amount, unit), unit };
  return state.say(`screen.picked.line.${name}`, { ...told, ...size });
}

/** @param {State} state @param {Course[]} courses @param {How} how */
function signs(state, courses, { name }) {
  const many = courses.map(({ planting }, at) => ({
    sign: svg`<path class=${`chart-curve chart-dash-${at % DASHES}`} d="M1 13h28"></path>${letter(15, 6, letterOf(at))}`,
    words: state.say("screen.who.planting", { planting: planting.id }),
  }));
  const isLeftOut = courses.some(({ picks }) => picks.left_out > 0);
  const left_out = courses.reduce((sum, { picks }) => sum + picks.left_out, 0);
  const measure = name === "count" ? "count" : "mass";
  const missed = { sign: ring(15, 8), words: state.say(`screen.picked.left_out.${measure}`, { left_out }) };
  return [...(courses.length > 1 ? many : []), ...(isLeftOut ? [missed] : [])];
}

/**
 * @param {State} state @param {(Course & {days: ReturnType<typeof daysOf>})[]} courses
 * @param {How} how
 */
function courseTable(state, courses, { name, unit }) {
  const figure = (/** @type {string} */ words) => ({
    words: withUnitOf(state, state.say(words), unit),
    isFigure: true,
  });
  const left_out = state.say(`screen.picked.not.${name === "count" ? "count" : "mass"}`);
  return table(
    state.say(`screen.picked.axis.${name}`),
    [
      { words: state.say("screen.water.day") },
      { words: state.say("screen.shed.planting") },
      figure("screen.picked.picked"),
      figure("screen.picked.so_far"),
    ],
    courses.flatMap(({ planting, days }) =>
      days.map((one) => [
        dayOf(state, one.day),
        state.say("screen.who.planting", { planting: planting.id }),
        one.picked === null ? left_out : amountOrNot(state, one.picked, unit),
        amountOf(state, one.total, unit),
      ]),
    ),
  );
}
