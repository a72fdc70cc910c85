// @ts-check
/**
 * The rules on a whole garden, and on the subjects that a change made worth another look.
 * Twin of server/shedbook/rules/garden.py.
 */
import { viewOfBed, viewOfPlanting } from "../log/view.js";
import { compareKey, evaluateInSteps, finish } from "./evaluate.js";

/** @typedef {import("../log/ledger.js").Ledger} Ledger */
/** @typedef {import("../types.js").Rulebook} Rulebook */
/** @typedef {import("./finding.js").Finding} Finding */
/** "bed" or "planting", and its id. @typedef {[string, string]} Subject */

const OVER_FOR_DAYS = 400;
const WEATHER_DAYS = 800;

/**
 * Findings of every bed and planting, sorted by key.
 * @param {Ledger} ledger @param {Rulebook} rulebook @param {number} today @param {number} now
 * @returns {Finding[]}
 */
export const findingsOfGarden = (ledger, rulebook, today, now) =>
  subjectsTouched(ledger, ["garden"])
    .flatMap((subject) => findingsOfSubject(ledger, subject, rulebook, today, now))
    .sort(compareKey);

/**
 * Findings of one bed or planting, sorted by key; none when it is not known. A hidden bed has none
 * either, a hidden planting only what withholds work in its bed, and one that is long over none.
 * @param {Ledger} ledger @param {Subject} subject @param {Rulebook} rulebook
 * @param {number} today @param {number} now
 */
export const findingsOfSubject = (ledger, subject, rulebook, today, now) =>
  finish(findingsInSteps(ledger, subject, rulebook, today, now));

/**
 * The same step by step.
 * @param {Ledger} ledger @param {Subject} subject @param {Rulebook} rulebook
 * @param {number} today @param {number} now
 * @returns {Generator<void, Finding[], void>}
 */
export function* findingsInSteps(ledger, [kind, id], rulebook, today, now) {
  const since = today - WEATHER_DAYS;
  if (kind !== "bed" && isLongOver(ledger, id, today)) return [];
  const view = kind === "bed"
    ? viewOfBed(ledger, id, since)
    : viewOfPlanting(ledger, id, true, since);
  if (view === null) return [];
  yield;
  return yield* evaluateInSteps(view, rulebook, today, now);
}

/** @param {Ledger} ledger @param {string} id @param {number} today */
function isLongOver(ledger, id, today) {
  const until = ledger.planting(id)?.until_day;
  return until !== undefined && until < today - OVER_FOR_DAYS;
}

/**
 * The subjects whose findings may differ after entries touched these keys, hidden ones too.
 * @param {Ledger} ledger @param {Iterable<string>} touched
 * @returns {Subject[]}
 */
export const subjectsTouched = (ledger, touched) =>
  ledger.reachedBy(touched).map((key) => {
    const colon = key.indexOf(":");
    return [key.slice(0, colon), key.slice(colon + 1)];
  });
