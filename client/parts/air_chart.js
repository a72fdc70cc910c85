// @ts-check
// The highs and lows of a planting's days beside the range in which its flowers set fruit.
import { svg } from "../vendor/lit-html/lit-html.js";
import { amountOf, amountOrNot, dayOf, withUnitOf } from "./chart/amounts.js";
import { chart } from "./chart/chart.js";
import { hatched, hatches } from "./chart/hatch.js";
import { limitLine, line, range } from "./chart/lines.js";
import { dot } from "./chart/marks.js";
import { axes, plotOf } from "./chart/plot.js";
import { table } from "./chart/table.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../garden/series/air.js").Air} Air */
/** @typedef {import("../garden/series/air.js").AirDay} AirDay */
/** @typedef {"low_c" | "high_c"} End */

const C = "°C";
const AROUND_C = 2;
/** The pattern of dots. */
const DOTS = 5;

/** @param {State} state @param {string} planting @param {Air} air with a day at least that is known */
export function airChart(state, planting, air) {
  const { days, limits } = air;
  const told = days.flatMap(({ low_c, high_c }) => (low_c === null ? [] : [low_c, high_c]));
  const { lowNight, highNight, highDay } = limits;
  const id = `air-${planting}`;
  const plot = plotOf(state, {
    from: days[0].day,
    to: Math.max(days[days.length - 1].day, days[0].day + 1),
    low: Math.min(...told, lowNight) - AROUND_C,
    high: Math.max(...told, highDay) + AROUND_C,
    unit: C,
    tall: 150,
  });
  return chart(state, {
    id,
    title: state.say("screen.air.title", { planting }),
    line: lineOf(state, air),
    height: plot.height,
    drawing: svg`${hatches(id, DOTS + 1)} ${range(plot, lowNight, highNight, hatched(id, DOTS))}
      ${axes(state, plot, { caption: withUnitOf(state, state.say("screen.air.axis"), C), words: (amount) => amountOf(state, amount, C) })}
      ${limitLine(plot, highDay)}
      ${bloomMark(air, plot)}
      ${["filled", "measured"].map((how) => [
        line(plot, pointsOf(days, "high_c", how), `chart-high chart-${how}`),
        line(plot, pointsOf(days, "low_c", how), `chart-low chart-${how}`),
      ])}
      ${days.flatMap((one) => pastOf(one, air).map((value) => dot(plot.x(one.day), plot.y(value))))}`,
    signs: signs(state, air, id),
    table: airTable(state, days),
  });
}

/** @param {State} state @param {Air} air */
function lineOf(state, { limits, bloom_day, past, known }) {
  const range = state.say("screen.air.range", {
    low_night_c: limits.lowNight,
    high_night_c: limits.highNight,
    high_day_c: limits.highDay,
  });
  const days = { bloom_day, past_days: past, known_days: known };
  return `${state.say(known ? "screen.air.past" : "screen.air.no_bloom", days)} ${range}`;
}

/**
 * Measured days make one line; days filled in make another, which reaches to those beside them.
 * @param {AirDay[]} days @param {End} end @param {string} how
 */
const pointsOf = (days, end, how) =>
  days.map((one, at) => {
    const isBeside = [days[at - 1], days[at + 1]].some((next) => next?.how === "filled");
    const isShown = one.how === how || (how === "filled" && one.how === "measured" && isBeside);
    return { day: one.day, value: isShown ? one[end] : null };
  });

/** The temperatures of a day that lie past a limit. @param {AirDay} one @param {Air} air @returns {number[]} */
function pastOf(one, { limits }) {
  if (!one.isPast || one.how === "missing") return [];
  const { low_c: low, high_c: high } = one;
  const isNight = low < limits.lowNight || low > limits.highNight;
  return [...(isNight ? [low] : []), ...(high > limits.highDay ? [high] : [])];
}

/** @param {Air} air @param {import("./chart/plot.js").Plot} plot */
function bloomMark({ bloom_day: day }, { x, top, base, from, to }) {
  if (day === null || day <= from || day > to) return "";
  return svg`<line class="chart-since" x1=${x(day)} x2=${x(day)} y1=${top} y2=${base}></line>`;
}

/** @param {State} state @param {Air} air @param {string} id */
function signs(state, { days, limits, bloom_day: day, past }, id) {
  const path = (/** @type {string} */ look) => svg`<path class=${look} d="M1 8h28"></path>`;
  const isFilled = days.some(({ how }) => how === "filled");
  const bloom = { sign: svg`<line class="chart-since" x1="15" x2="15" y1="1" y2="15"></line>`, words: state.say("screen.air.sign.bloom", { bloom_day: day }) };
  const filled = { sign: path("chart-curve chart-low chart-filled"), words: state.say("screen.air.sign.filled") };
  return [
    { sign: path("chart-curve chart-high"), words: state.say("screen.air.sign.high") },
    { sign: path("chart-curve chart-low"), words: state.say("screen.air.sign.low") },
    ...(isFilled ? [filled] : []),
    { sign: path("chart-limit"), words: state.say("screen.air.sign.day", { high_day_c: limits.highDay }) },
    {
      sign: svg`<rect class="chart-range" fill=${hatched(id, DOTS)} x="1" y="2" width="28" height="12"></rect>`,
      words: state.say("screen.air.sign.night", { low_night_c: limits.lowNight, high_night_c: limits.highNight }),
    },
    ...(past ? [{ sign: dot(15, 8), words: state.say("screen.air.sign.past") }] : []),
    ...(day === null ? [] : [bloom]),
  ];
}

/** @param {State} state @param {AirDay[]} days */
const airTable = (state, days) =>
  table(
    state.say("screen.air.table"),
    [
      { words: state.say("screen.water.day") },
      ...["low", "high"].map((end) => ({
        words: withUnitOf(state, state.say(`screen.air.${end}`), C),
        isFigure: true,
      })),
      { words: state.say("screen.air.how") },
    ],
    days.map(({ day, low_c, high_c, how, isPast }) => [
      dayOf(state, day),
      amountOrNot(state, low_c, C),
      amountOrNot(state, high_c, C),
      state.say(`screen.air.how.${isPast ? "past_" : ""}${how}`),
    ]),
  );
