// @ts-check
// What a sheet for the week tells at each stop: the work of seven days, and every wait.
import { handsWithheld } from "./withheld.js";
import { messageOf, titleOf, whenOf, whoOf } from "./telling.js";
import { stopsOf } from "./stops.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("./stops.js").Stop} Stop */
/** @typedef {{stop: Stop, jobs: Finding[], waits: string[]}} WeekStop */

const DAYS = 7;

/** The last day of the week that begins today. @param {State} state */
export const lastDayOfWeek = (state) => state.today + DAYS - 1;

/**
 * The stops in walking order, those to be left alone last, as on the round.
 * @param {State} state @returns {WeekStop[]}
 */
export function weekStops(state) {
  const stops = stopsOf(state);
  const inOrder = [
    ...stops.filter((stop) => !stop.lastBecause),
    ...stops.filter((stop) => stop.lastBecause),
  ];
  return inOrder.map((stop) => ({ stop, jobs: jobsOf(state, stop), waits: waitsOf(state, stop) }));
}

/** @param {State} state @param {Finding} finding */
const isWait = (state, finding) => state.look.rule(finding.rule)?.shape === "withhold";

/** @param {State} state @param {Stop} stop */
function findingsAt(state, { bed, plantings }) {
  const ids = new Set(plantings.map((planting) => planting.id));
  return state.findings.filter(({ subject }) =>
    bed ? subject.bed === bed.id : ids.has(subject.planting ?? ""),
  );
}

/**
 * Late, due, or held back; and what comes up before the week is over.
 * @param {State} state @param {Stop} stop
 */
function jobsOf(state, stop) {
  const last = lastDayOfWeek(state);
  const comes = (/** @type {Finding} */ { state: stands, opens }) =>
    stands === "upcoming" && opens !== null && opens <= last;
  const soon = findingsAt(state, stop).filter(comes);
  return [...stop.jobs, ...soon].filter((finding) => !isWait(state, finding));
}

/**
 * Until when to keep out, or not to pick; also where only that is known, that nobody knows.
 * @param {State} state @param {Stop} stop @returns {string[]}
 */
function waitsOf(state, stop) {
  const waits = findingsAt(state, stop).filter((finding) => isWait(state, finding));
  const running = waits
    .filter((finding) => finding.state === "blocked")
    .map((finding) => told(state, finding, whenOf(state, finding)));
  const unknown = waits
    .filter((finding) => finding.state === "unknown")
    .map((finding) => told(state, finding, `${titleOf(state, finding)}: ${messageOf(state, finding)}`));
  return [...new Set([...running, ...unknown, ...uncounted(state, stop)])];
}

/** @param {State} state @param {Finding} finding @param {string} words */
const told = (state, { subject }, words) =>
  subject.planting
    ? state.say("screen.paper.wait", { what: whoOf(state, subject), wait: words })
    : words;

/**
 * What could not be counted leaves the answer open. That the whole log is stale stands at the top.
 * @param {State} state @param {Stop} stop
 */
function uncounted(state, { bed }) {
  if (!bed || state.look.isStale) return [];
  const hands = handsWithheld(state, { bed: bed.id });
  const picking = state.look.withheld("pick", { bed: bed.id });
  const isOpen = (/** @type {import("../types.js").Withheld | undefined} */ known) =>
    known?.state === "unknown" && known.keys.length === 0;
  return [
    ...(isOpen(hands) ? [state.say("screen.withheld.hand_work_unknown")] : []),
    ...(isOpen(picking) ? [state.say("screen.withheld.picking_unknown")] : []),
  ];
}
