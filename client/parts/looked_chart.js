// @ts-check
// What part of the plants had something on them, round by round, against the limit from which to
// act. The whiskers say between what the true share lies.
import { html, svg } from "../vendor/lit-html/lit-html.js";
import { amountOf, amountOrNot, dayOf, withUnitOf } from "./chart/amounts.js";
import { chart } from "./chart/chart.js";
import { limitLine, line } from "./chart/lines.js";
import { dot, ring, whisker } from "./chart/marks.js";
import { axes, plotOf } from "./chart/plot.js";
import { table } from "./chart/table.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../garden/series/looked.js").Looked} Looked */
/** @typedef {import("../garden/series/looked.js").Round} Round */

const PERCENT = "%";
const ABOVE = 1.1;

/** @param {State} state @param {string} planting @param {Looked} looked */
export function lookedChart(state, planting, looked) {
  const { organism, measure, limit, rounds, per } = looked;
  if (rounds.every(({ value }) => value === null)) return notDrawn(state, looked);
  const isShare = measure === "share";
  const [scale, unit] = isShare ? [100, PERCENT] : [1, undefined];
  const days = rounds.map(({ day }) => day);
  const most = Math.max(
    ...rounds.flatMap(({ value, high }) => [value ?? 0, high ?? 0]),
    limit ?? 0,
  );
  const plot = plotOf(state, {
    from: Math.min(...days) - 1,
    to: Math.max(...days) + 1,
    low: 0,
    high: isShare ? Math.min(most * ABOVE * scale, scale) || scale : most * ABOVE || 1,
    unit,
  });
  const axis = state.say(`screen.looked.axis.${measure}`, { per_what: per });
  return chart(state, {
    id: `looked-${planting}-${organism.replace(/\W+/g, "-")}`,
    title: state.say("screen.looked.title", { organism, planting }),
    line: lineOf(state, looked),
    height: plot.height,
    drawing: svg`${axes(state, plot, {
      caption: withUnitOf(state, axis, unit),
      words: (amount) => amountOf(state, amount, unit),
    })}
      ${limit === null ? "" : limitLine(plot, limit * scale)}
      ${line(plot, rounds.map(({ day, value }) => ({ day, value: value === null ? null : value * scale })), "chart-thin")}
      ${rounds.map((round) => markOf(plot, round, scale))}`,
    signs: signs(state, looked),
    table: roundTable(state, looked, axis, scale, unit),
  });
}

/** @param {import("./chart/plot.js").Plot} plot @param {Round} round @param {number} scale */
function markOf({ x, y, base }, { day, value, low, high }, scale) {
  if (value === null) return ring(x(day), base);
  const place = dot(x(day), y(value * scale));
  if (low === null || high === null) return place;
  return [whisker(x(day), y(low * scale), y(high * scale)), place];
}

/** Rounds that told how many or how much, but not of what number. @param {State} state @param {Looked} looked */
const notDrawn = (state, { organism, rounds }) =>
  html`<p class="soft">
    ${state.say("screen.looked.not_counted", { organism, rounds: rounds.length })}
  </p>`;

/** The last round that counted, and the limit. @param {State} state @param {Looked} looked */
function lineOf(state, { rounds, measure, limit, per }) {
  const last = /** @type {Round} */ (rounds.filter(({ value }) => value !== null).at(-1));
  const values = { measure, per_what: per };
  const against =
    limit === null
      ? state.say("screen.looked.no_limit")
      : state.say(`screen.looked.limit_${measure}`, {
          ...values,
          ...(measure === "share" ? { limit_share: limit } : { limit }),
        });
  const told = { ...values, ...last, rounds: rounds.length };
  const share = { affected_share: last.value, low_share: last.low, high_share: last.high };
  return `${state.say(`screen.looked.line_${measure}`, { ...told, ...share, mean: last.value })} ${against}`;
}

/** @param {State} state @param {Looked} looked */
function signs(state, { rounds, limit, measure }) {
  const path = svg`<path class="chart-limit" d="M1 8h28"></path>`;
  const isOpen = rounds.some(({ value }) => value === null);
  return [
    { sign: dot(15, 8), words: state.say(`screen.looked.sign.${measure}`) },
    ...(measure === "share"
      ? [{ sign: whisker(15, 15, 1), words: state.say("screen.looked.sign.between") }]
      : []),
    ...(limit === null ? [] : [{ sign: path, words: state.say("screen.looked.sign.limit") }]),
    ...(isOpen ? [{ sign: ring(15, 8), words: state.say("screen.looked.sign.open") }] : []),
  ];
}

/**
 * @param {State} state @param {Looked} looked @param {string} axis @param {number} scale
 * @param {string | undefined} unit
 */
function roundTable(state, { rounds, measure, organism }, axis, scale, unit) {
  const figure = (/** @type {number | null} */ value) =>
    amountOrNot(state, value === null ? null : value * scale, unit);
  const heads = measure === "share" ? ["low", "high"] : [];
  return table(
    state.say("screen.scouting.organism", { organism }),
    [
      { words: state.say("screen.scouting.head.day") },
      ...["looked", "affected"].map((head) => ({
        words: state.say(`screen.scouting.head.${head}`),
        isFigure: true,
      })),
      { words: withUnitOf(state, axis, unit), isFigure: true },
      ...heads.map((head) => ({
        words: withUnitOf(state, state.say(`screen.looked.${head}`), unit),
        isFigure: true,
      })),
    ],
    rounds.map((round) => [
      dayOf(state, round.day),
      amountOrNot(state, round.looked),
      amountOrNot(state, round.affected),
      figure(round.value),
      ...(heads.length ? [figure(round.low), figure(round.high)] : []),
    ]),
  );
}
