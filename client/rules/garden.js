// @ts-check
/**
 * The rules on a whole garden, and on the subjects that a change made worth another look.
 * Twin of server/shedbook/rules/garden.py.
 */
import { viewOfBed, viewOfPlanting } from "../log/view.js";
import { compareKey, evaluateInSteps, finish } from "./evaluate.js";
import { isLongOver, sightOf } from "./long_ago.js";

/** @typedef {import("../log/ledger.js").Ledger} Ledger */
/** @typedef {import("../types.js").Rulebook} Rulebook */
/** @typedef {import("./finding.js").Finding} Finding */
/** "bed" or "planting", and its id. @typedef {[string, string]} Subject */

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
  const planting = kind === "bed" ? null : ledger.planting(id);
  if (kind !== "bed" && (planting === null || isLongOver(ledger, planting, today))) return [];
  const bedId = planting === null ? id : planting.bed;
  const sees = sightOf(ledger, bedId, rulebook, today, planting);
  const view = planting === null
    ? viewOfBed(ledger, id, sees)
    : viewOfPlanting(ledger, id, true, sees);
  if (view === null) return [];
  yield;
  return yield* evaluateInSteps(view, rulebook, today, now);
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
