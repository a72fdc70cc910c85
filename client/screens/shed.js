// @ts-check
// The dashboard, laid out like an open book: what is late and withheld on the left page, how the
// season goes on the right.
import { civilDate } from "../log/moment.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { isFigure } from "../parts/figures.js";
import { toBed, toEvening, toFinding } from "../parts/paths.js";
import { pressLink } from "../parts/press.js";
import { rotationTable } from "../parts/rotation_table.js";
import { pickTable } from "../parts/pick_table.js";
import { talliesOf } from "../parts/tallies.js";
import { messageOf, titleOf, whereOf } from "../parts/telling.js";
import { title } from "../parts/title.js";
import { waterChart } from "../parts/water_chart.js";
import { shortTime } from "../parts/wall_clock.js";
import { staleBand } from "../parts/withheld.js";
import { work } from "../parts/work.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../parts/tallies.js").Tally} Tally */

const DAY_MS = 86_400_000;

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  return html`${title(state.say("screen.shed.title"), { line: known(state) })}
    <div class="row">
      ${pressLink(state.say("screen.garden.name"), "#/garden", "press-quiet")}
      ${pressLink(state.say("screen.evening.name"), toEvening(), "press-quiet")}
      ${pressLink(state.say("screen.shed.review"), "#/review", "press-quiet")}
      ${pressLink(state.say("screen.next_season.name"), "#/next-season", "press-quiet")}
      ${pressLink(state.say("screen.scouting.name"), "#/scouting", "press-quiet")}
      ${pressLink(state.say("action.paper"), "#/paper", "press-quiet")}
    </div>
    ${staleBand(state)}
    <div class="spread">
      <div class="leaf">${leftPage(state, actions)}</div>
      <div class="leaf">
        ${part("water", state.say("screen.shed.water"), evenness(state))}
        ${part("picks", state.say("screen.shed.picks"), picks(state))}
      </div>
    </div>
    ${part(
      "rotation",
      state.say("screen.rotation.title"),
      html`<p class="soft small">${state.say("screen.rotation.line")}</p>
        ${rotationTable(state)}`,
    )}`;
}

/** @param {State} state @param {Actions} actions */
function leftPage(state, actions) {
  const of = (/** @type {string[]} */ ...states) =>
    state.findings.filter((finding) => states.includes(finding.state));
  const withholds = state.findings.filter(
    (finding) =>
      state.look.rule(finding.rule)?.shape === "withhold" &&
      (finding.state === "blocked" || finding.state === "unknown"),
  );
  const isWithhold = new Set(withholds.map((finding) => finding.key));
  const rest = (/** @type {Finding[]} */ some) =>
    some.filter((finding) => !isWithhold.has(finding.key));
  return html`${part(
    "late",
    state.say("screen.shed.late"),
    jobs(state, actions, of("overdue"), state.say("screen.shed.none_late")),
  )}
  ${part("withheld", state.say("screen.shed.withheld"), withheldList(state, withholds))}
  ${part(
    "due",
    state.say("screen.shed.due"),
    jobs(state, actions, rest(of("due", "blocked")), state.say("screen.shed.none_due")),
  )}
  ${part(
    "odd",
    state.say("screen.shed.odd"),
    jobs(
      state,
      actions,
      rest(of("flagged", "unknown")).filter(
        (finding) =>
          !isFigure(state, finding) &&
          !["rest", "evenness"].includes(state.look.rule(finding.rule)?.shape ?? ""),
      ),
      state.say("screen.shed.none_odd"),
    ),
  )}`;
}

/** @param {string} name @param {string} words @param {unknown} content */
const part = (name, words, content) =>
  html`<section class="stack leaf-part" aria-labelledby="shed-${name}">
    <h2 id="shed-${name}">${words}</h2>
    ${content}
  </section>`;

/** "As known at 07:40; 1 phone not heard for a day." @param {State} state */
function known(state) {
  const others = state.devices.filter((device) => device.id !== state.session?.device.id);
  const silent = others.filter(
    (device) => state.now * 1000 - (device.heard_at_ms ?? 0) > DAY_MS,
  ).length;
  const words =
    state.knownAtMs === null
      ? state.say("screen.withheld.never_known")
      : state.say("screen.shed.known", { time: shortTime(state, state.knownAtMs) });
  return html`${words} ${silent ? state.say("screen.shed.silent", { count: silent }) : nothing}`;
}

/** @param {State} state @param {Actions} actions @param {Finding[]} some @param {string} none */
const jobs = (state, actions, some, none) =>
  some.length
    ? html`<ul class="work-list ruled">
        ${repeat(
          some,
          (finding) => finding.key,
          (finding) => work(state, actions, finding, { where: true, full: true }),
        )}
      </ul>`
    : html`<p class="soft">${none}</p>`;

/** @param {State} state @param {Finding[]} some */
function withheldList(state, some) {
  if (!some.length) return html`<p class="soft">${state.say("screen.shed.none_withheld")}</p>`;
  return html`<ul class="stack">
    ${some.map(
      (finding) =>
        html`<li>
          <div class="band ${finding.state === "unknown" ? "band-unknown" : ""}">
            <p class="band-words">
              <a href=${toFinding(finding.key)}>${titleOf(state, finding)}</a>
              <span class="withheld-message">${whereOf(state, finding.subject)}</span>
              <span class="withheld-message">${messageOf(state, finding)}</span>
            </p>
          </div>
        </li>`,
    )}
  </ul>`;
}

/** @param {State} state */
function evenness(state) {
  const told = state.beds.flatMap((bed) =>
    state.findings
      .filter(
        (one) =>
          one.subject.bed === bed.id &&
          !one.subject.planting &&
          state.look.rule(one.rule)?.shape === "evenness",
      )
      .map((finding) => ({ bed: bed.id, finding })),
  );
  if (!told.length) return html`<p class="soft">${state.say("screen.chart.none")}</p>`;
  return told.map(
    ({ bed, finding }) =>
      html`<div class="evenness">
        <h3><a href=${toBed(bed)}>${state.say("screen.who.bed", { bed })}</a></h3>
        <p class="small ${finding.state === "flagged" ? "state-words" : ""}">
          ${messageOf(state, finding)}
          <a href=${toFinding(finding.key)}>${state.say("action.why")}</a>
        </p>
        ${waterChart(state, finding, bed)}
      </div>`,
  );
}

/**
 * This year's table; what is older is behind a fold.
 * @param {State} state
 */
function picks(state) {
  const [thisYear] = civilDate(state.today);
  const isOld = (/** @type {Tally} */ { lastDay }) => civilDate(lastDay)[0] < thisYear;
  const tallies = talliesOf(state);
  const now = tallies.filter((tally) => !isOld(tally));
  const old = tallies.filter(isOld);
  return html`${
    now.length
      ? pickTable(state, now, state.say("screen.shed.picks"))
      : html`<p class="soft">${state.say("screen.shed.none_picked")}</p>`
  }
  ${
    old.length
      ? html`<details class="help">
          <summary>${state.say("screen.shed.earlier")}</summary>
          ${pickTable(state, old, state.say("screen.shed.earlier"))}
        </details>`
      : nothing
  }`;
}
