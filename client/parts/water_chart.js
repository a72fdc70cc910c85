// @ts-check
// The gaps between waterings as bars along the days, as tall as they are long: even water makes an
// even row. Below, on the same days, the fruit that was thrown out, a lane for each cause.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";
import { gapsBetween, longestOf } from "../garden/series/waterings.js";
import { amountOf, amountOrNot, dayOf, withUnitOf } from "./chart/amounts.js";
import { chart } from "./chart/chart.js";
import { hatched, hatches } from "./chart/hatch.js";
import { limitLine } from "./chart/lines.js";
import { drop, letter, letterOf, ring, stroke } from "./chart/marks.js";
import { axes, plotOf } from "./chart/plot.js";
import { table } from "./chart/table.js";
import { choiceOf, doneOf, gist, messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../garden/series/waterings.js").Gap} Gap */
/** @typedef {import("../garden/series/losses.js").Loss} Loss */
/** @typedef {import("./chart/plot.js").Plot} Plot */

const DAY_S = 86_400;
const HOURS = 24;
const TALL = 80;
/** Room for the signs of waterings, and for each cause of loss. */
const [WATERED, LANE] = [24, 30];
const BAR = 6;

/**
 * Draws what the rule counted, and nothing else: the finding's own entries.
 * @param {State} state @param {Finding} finding @param {string} bed
 */
export function waterChart(state, finding, bed) {
  const days = Number(finding.message.values.window_days);
  const gaps = gapsBetween(
    finding.entries.flatMap((id) => state.look.event(id) ?? []),
    state.now,
  );
  if (!gaps.length || !(days > 0))
    return html`<p class="soft">${state.say("screen.chart.too_few")}</p>`;
  const first = state.today - days;
  const losses = state.look.series.losses(bed, first);
  const longest = longestOf(gaps);
  const mean = finding.message.values.mean_gap_hours;
  const id = `gaps-${bed}`;
  // A bed watered but an hour ago has a gap too: the axis names whole days all the same.
  const high = Math.max(1, longest.hours / HOURS);
  const plot = plotOf(state, {
    ...{ from: first, to: state.today + 1, low: 0, high, tall: TALL },
    lanes: WATERED + LANE * losses.length,
  });
  return chart(state, {
    id,
    title: state.say("screen.gaps.title", { bed }),
    line: `${lineOf(state, finding)} ${lossLine(state, losses)}`,
    height: plot.height,
    drawing: svg`${hatches(id, 1)}
      ${axes(state, plot, {
        caption: withUnitOf(state, state.say("screen.gaps.axis"), "days"),
        words: (amount) => amountOf(state, amount),
      })}
      ${gaps.map((gap) => bar(plot, gap, gap === longest ? hatched(id, 0) : "none"))}
      ${typeof mean === "number" ? limitLine(plot, mean / HOURS) : ""}
      ${gaps.map(({ event }) => watered(event, plot.x(timeOf(event)), plot.base + 20))}
      ${losses.map((loss, at) => lane(state, plot, loss, at, mostOf(losses)))}`,
    signs: signs(state, gaps, losses, id, typeof mean === "number"),
    note: losses.length ? state.say("screen.review.no_cause") : nothing,
    table: html`${gapTable(state, gaps)} ${losses.length ? lossTable(state, losses) : nothing}`,
  });
}

/** When it happened where the garden lies, in days. @param {LoggedEvent} event */
const timeOf = ({ day, hour, minute }) => day + (hour + minute / 60) / HOURS;

/** @param {Loss[]} losses */
const mostOf = (losses) =>
  Math.max(1, ...losses.flatMap(({ days }) => days.map(({ count }) => count ?? 0)));

/** @param {Plot} plot @param {Gap} gap @param {string} fill */
function bar({ x, y, right }, { event, hours, from, to, isRunning }, fill) {
  const start = x(timeOf(event));
  const end = Math.min(x(timeOf(event) + (to - from) / DAY_S), right);
  const top = y(hours / HOURS);
  const look = isRunning ? "chart-gap chart-running" : "chart-gap";
  return svg`<rect class=${look} fill=${fill} x=${start} y=${top}
    width=${end - start} height=${y(0) - top}></rect>`;
}

/** @param {LoggedEvent} event @param {number} x @param {number} y */
function watered(event, x, y) {
  const mark = markOf(event);
  if (mark === "rain") return drop(x, y);
  return mark === "water" ? stroke(x, y) : ring(x, y - 7);
}

/** @param {LoggedEvent} event */
function markOf({ kind, details }) {
  if (kind === "rain") return "rain";
  return Number(details.volume_l) ? "water" : "no_volume";
}

/**
 * @param {State} state @param {Plot} plot @param {Loss} loss @param {number} at
 * @param {number} most fruits of any cause on any day
 */
function lane(state, { x, left, right, base }, { days }, at, most) {
  const bottom = base + WATERED + LANE * (at + 1);
  return svg`${letter(left / 2, bottom - 9, letterOf(at))}
    <line class="chart-grid" x1=${left} x2=${right} y1=${bottom} y2=${bottom}></line>
    ${days.map(({ day, count }) => {
      const middle = x(day + 0.5);
      if (count === null) return ring(middle, bottom - 5);
      const tall = (count / most) * (LANE - 16);
      return svg`<rect class="chart-loss" x=${middle - BAR / 2} y=${bottom - tall} width=${BAR} height=${tall}></rect>
        <text class="chart-words chart-mid" x=${middle} y=${bottom - tall - 2}>${amountOf(state, count)}</text>`;
    })}`;
}

/** How many gaps, how long and how even; what the rule says where it can't tell. @param {State} state @param {Finding} finding */
const lineOf = (state, finding) =>
  finding.state === "unknown"
    ? messageOf(state, finding)
    : state.say("screen.gaps.line", finding.message.values);

/** @param {State} state @param {Loss[]} losses */
function lossLine(state, losses) {
  if (!losses.length) return state.say("screen.gaps.no_losses");
  const count = losses.reduce((total, loss) => total + (loss.count ?? 0), 0);
  return state.say("screen.gaps.losses", { count });
}

/**
 * Of the marks, those that the waterings have.
 * @param {State} state @param {Gap[]} gaps @param {Loss[]} losses
 * @param {string} id @param {boolean} hasMean
 */
function signs(state, gaps, losses, id, hasMean) {
  const named = (/** @type {string} */ name, /** @type {unknown} */ sign) => ({
    sign,
    words: state.say(`screen.gaps.sign.${name}`),
  });
  const box = (/** @type {string} */ fill) =>
    svg`<rect class="chart-gap" fill=${fill} x="2" y="2" width="26" height="12"></rect>`;
  const mean = named("mean", svg`<path class="chart-limit" d="M1 8h28"></path>`);
  const marks = [
    { name: "water", sign: stroke(15, 15) },
    { name: "no_volume", sign: ring(15, 8) },
    { name: "rain", sign: drop(15, 14) },
  ].filter(({ name }) => gaps.some(({ event }) => markOf(event) === name));
  return [
    named("gap", box("none")),
    named("longest", box(hatched(id, 0))),
    ...(hasMean ? [mean] : []),
    ...marks.map(({ name, sign }) => named(name, sign)),
    ...losses.map(({ cause, count }, at) => ({
      sign: letter(15, 8, letterOf(at)),
      words: state.say("screen.gaps.sign.loss", {
        what: choiceOf(state, "discard", "cause", cause),
        told: amountOrNot(state, count),
      }),
    })),
  ];
}

/** @param {State} state @param {Gap[]} gaps */
const gapTable = (state, gaps) =>
  table(
    state.say("screen.gaps.table"),
    ["when", "amount", "gap"].map((name) => ({ words: state.say(`screen.chart.${name}`) })),
    gaps.map(({ event, hours }) => [
      state.say("screen.value.moment", { at_instant: event.instant }),
      `${doneOf(state, event.kind)} ${gist(state, event.kind, event.details)}`,
      state.say("screen.chart.hours", { gap_hours: hours }),
    ]),
  );

/** @param {State} state @param {Loss[]} losses */
const lossTable = (state, losses) =>
  table(
    state.say("screen.review.losses"),
    [
      { words: state.say("screen.water.day") },
      { words: state.say("screen.gaps.cause") },
      { words: state.say("screen.shed.fruit"), isFigure: true },
    ],
    losses.flatMap(({ cause, days }) =>
      days.map(({ day, count }) => [
        dayOf(state, day),
        choiceOf(state, "discard", "cause", cause),
        amountOrNot(state, count),
      ]),
    ),
  );
