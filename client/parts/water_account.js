// @ts-check
// What the root zone of a bed has lost over the last two weeks, against what it may lose; above it
// how much to give, in letters that can be read at arm's length. The same as a table.
import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";
import { amountOf, dayOf, withUnitOf } from "./chart/amounts.js";
import { chart } from "./chart/chart.js";
import { band, line } from "./chart/lines.js";
import { drop, ring, stroke } from "./chart/marks.js";
import { axes, plotOf } from "./chart/plot.js";
import { table } from "./chart/table.js";
import { messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").WaterLine} WaterLine */

const SHOWN_DAYS = 14;
const MM = "mm";

/** @param {State} state @param {string} bed */
export function waterAccount(state, bed) {
  const lines = state.look.waterLines(bed)?.slice(-SHOWN_DAYS);
  if (!lines?.length) return nothing;
  return html`<section class="stack" aria-labelledby="bed-water-account">
    <h2 id="bed-water-account">${state.say("screen.water.title")}</h2>
    ${answer(state, bed)} ${accountChart(state, bed, lines)}
  </section>`;
}

/**
 * Litres and minutes where water is due, else the sentence of the account.
 * @param {State} state @param {string} bed
 */
function answer(state, bed) {
  const finding = waterFinding(state, bed);
  if (!finding) return nothing;
  const { volume_l, duration_min } = finding.message.values;
  if (typeof volume_l !== "number") return html`<p>${messageOf(state, finding)}</p>`;
  return html`<p class="water-now">
    <strong>${state.say("screen.water.litres", { volume_l })}</strong>
    ${
      typeof duration_min === "number"
        ? html`<span>${state.say("screen.water.minutes", { duration_min })}</span>`
        : nothing
    }
  </p>`;
}

/**
 * What the water account of the bed says, too much water aside.
 * @param {State} state @param {string} bed @returns {Finding | undefined}
 */
export const waterFinding = (state, bed) =>
  state.look
    .findingsOf({ bed })
    .find(
      ({ rule, state: told }) =>
        told !== "flagged" && state.look.rule(rule)?.shape === "balance",
    );

/**
 * @param {State} state @param {string} bed @param {WaterLine[]} lines the days to be drawn
 */
export function accountChart(state, bed, lines) {
  const [first, last] = [lines[0], lines[lines.length - 1]];
  const high = Math.max(...lines.flatMap((line) => [line.dry_mm, line.raw_mm * 1.25]), 1);
  const span = { from: first.day, to: Math.max(last.day, first.day + 1) };
  const plot = plotOf(state, { ...span, low: 0, high, unit: MM, isDown: true });
  const points = (/** @type {"depletion_mm" | "raw_mm"} */ of) =>
    lines.map((line) => ({ day: line.day, value: line[of] }));
  return chart(state, {
    id: `account-${bed}`,
    title: state.say("screen.water.course"),
    line: state.say("screen.water.chart", {
      depletion_mm: last.depletion_mm,
      raw_mm: last.raw_mm,
      shown_days: lines.length,
    }),
    height: plot.height,
    drawing: svg`${band(
      plot,
      lines.map(({ day, dry_mm, wet_mm }) => ({ day, low: wet_mm, high: dry_mm })),
    )}
      ${axes(state, plot, {
        caption: withUnitOf(state, state.say("screen.water.gone"), MM),
        words: (amount) => amountOf(state, amount, MM),
        zero: plot.top,
      })}
      ${line(plot, points("raw_mm"), "chart-limit")} ${line(plot, points("depletion_mm"), "")}
      ${lines.map((one) => came(one, plot.x(one.day), plot.top))}`,
    signs: signs(state, lines),
    table: accountTable(state, lines),
  });
}

/**
 * Water given as a stroke through the line of full soil, rain as a drop; open where not measured.
 * @param {WaterLine} line @param {number} x @param {number} full
 */
function came(line, x, full) {
  if (!line.is_measured) return ring(x, full);
  if (line.given_mm > 0) return stroke(x, full + 4);
  return line.rain_mm > 0 ? drop(x, full) : "";
}

/** Of the marks, those that the days have. @param {State} state @param {WaterLine[]} lines */
function signs(state, lines) {
  const named = (/** @type {string} */ name, /** @type {unknown} */ sign) => ({
    sign,
    words: state.say(`screen.water.sign.${name}`),
  });
  const has = (/** @type {(line: WaterLine) => boolean} */ is, /** @type {ReturnType<typeof named>} */ sign) =>
    lines.some(is) ? [sign] : [];
  return [
    named("gone", svg`<path class="chart-curve" d="M1 8h28"></path>`),
    named("between", svg`<rect class="chart-band" x="1" y="2" width="28" height="12"></rect>`),
    named("may_go", svg`<path class="chart-limit" d="M1 8h28"></path>`),
    ...has(({ given_mm: given }) => given > 0, named("given", stroke(15, 15))),
    ...has(({ rain_mm: rain }) => rain > 0, named("rain", drop(15, 14))),
    ...has((line) => !line.is_measured, named("unmeasured", ring(15, 8))),
  ];
}

/** @param {State} state @param {WaterLine[]} lines */
function accountTable(state, lines) {
  const columns = ["gone", "may_go", "used", "rain", "given"].map((name) => ({
    words: withUnitOf(state, state.say(`screen.water.${name}`), MM),
    isFigure: true,
  }));
  const mm = (/** @type {number} */ depth) => amountOf(state, depth, MM);
  return table(
    state.say("screen.water.course"),
    [{ words: state.say("screen.water.day") }, ...columns],
    lines.map((line) => [
      dayOf(state, line.day),
      ...[line.depletion_mm, line.raw_mm, line.used_mm, line.rain_mm].map(mm),
      line.is_measured ? mm(line.given_mm) : state.say("screen.water.unmeasured"),
    ]),
  );
}
