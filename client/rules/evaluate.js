// @ts-check
/**
 * The rules on one subject: a pure function of its view, the rulebook, the day and the moment.
 * Twin of server/shedbook/rules/evaluate.py.
 */
import { applications } from "./applications.js";
import { balance } from "./balance.js";
import { beside } from "./beside.js";
import { budget } from "./budget.js";
import { evenness } from "./evenness.js";
import { film } from "./film.js";
import { follow } from "./follow.js";
import { gap, giveWay } from "./gap.js";
import { keeping } from "./keeping.js";
import { ladder } from "./ladder.js";
import { UNCOUNTED, applies, compareText, contextOf, livePlants } from "./match.js";
import { near } from "./near.js";
import { nights } from "./nights.js";
import { onceAfter } from "./once_after.js";
import { progress } from "./progress.js";
import { repeatEvery } from "./repeat_every.js";
import { rest } from "./rest.js";
import { threshold } from "./threshold.js";
import { scouting } from "./scouting.js";
import { soilSpots } from "./soil_spots.js";
import { uniformity } from "./uniformity.js";
import { runningSpans, withhold } from "./withhold.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {{until: number, key: string}} End */

/** @type {Map<string, (context: Context, rule: Rule) => Finding[]>} */
const SHAPES = new Map([
  ["once_after", onceAfter],
  ["repeat_every", repeatEvery],
  ["withhold", withhold],
  ["gap", gap],
  ["evenness", evenness],
  ["rest", rest],
  ["beside", beside],
  ["balance", balance],
  ["uniformity", uniformity],
  ["follow", follow],
  ["film", film],
  ["soil_spots", soilSpots],
  ["scouting", scouting],
  ["threshold", threshold],
  ["ladder", ladder],
  ["keeping", keeping],
  ["near", near],
  ["budget", budget],
  ["applications", applications],
  ["progress", progress],
  ["nights", nights],
]);

/**
 * All findings of the view's subject, sorted by key; a shape not known here is passed over.
 * @param {import("../types.js").View} view @param {import("../types.js").Rulebook} rulebook
 * @param {number} today @param {number} now
 */
export const evaluate = (view, rulebook, today, now) =>
  finish(evaluateInSteps(view, rulebook, today, now));

/**
 * The same rule by rule, for who must let go of the screen's thread in between.
 * @param {import("../types.js").View} view @param {import("../types.js").Rulebook} rulebook
 * @param {number} today @param {number} now
 * @returns {Generator<void, Finding[], void>}
 */
export function* evaluateInSteps(view, rulebook, today, now) {
  const subject = view.kind === "planting" ? view.planting : view.bed;
  if (subject === null) return [];
  const context = contextOf(view, rulebook, today, now);
  if (subject.hidden) return ofTheHidden(context);
  /** @type {Finding[]} */
  const found = [];
  for (const rule of rulesOf(context)) {
    const shape = SHAPES.get(rule.shape);
    if (!shape || !applies(context, rule)) continue;
    yield;
    found.push(...shape(context, rule));
  }
  yield;
  giveWay(found, rulesOf(context));
  const held = [
    ...found.filter((made) => made.state === "blocked" && made.blocks !== undefined),
    ...ofTheBed(context),
  ];
  for (const made of found) holdBack(context, made, held);
  return found.sort(compareKey);
}

/**
 * What comes of work that is done step by step.
 * @template T
 * @param {Generator<void, T, void>} work
 */
export function finish(work) {
  let step = work.next();
  while (!step.done) step = work.next();
  return step.value;
}

/** @param {{key: string}} one @param {{key: string}} other */
export const compareKey = (one, other) => compareText(one.key, other.key);

/** @param {Context} context */
const rulesOf = (context) => /** @type {Rule[]} */ (/** @type {unknown} */ (context.rulebook.rules));

/**
 * A planting that was taken back may stand in its bed all the same: what withholds, stays.
 * @param {Context} context
 */
function ofTheHidden(context) {
  const { bed, planting } = context.view.subject;
  if (planting === undefined || bed === undefined) return [];
  return rulesOf(context)
    .filter((rule) => rule.shape === "withhold" && applies(context, rule))
    .flatMap((rule) => withhold(context, rule))
    .filter((made) => made.blocks !== undefined)
    .sort(compareKey);
}

/**
 * What withholds work in the whole bed of a planting; shown with the bed, felt here.
 * @param {Context} context
 */
function ofTheBed(context) {
  const { kind, bed } = context.view;
  if (kind !== "planting" || bed === null) return [];
  /** @type {import("../types.js").View} */
  const view = { ...context.view, kind: "bed", subject: { bed: bed.id }, planting: null };
  const bedContext = { ...context, view };
  return rulesOf(context)
    .filter((rule) => rule.shape === "withhold" && applies(bedContext, rule))
    .flatMap((rule) => runningSpans(bedContext, rule));
}

/**
 * Work that is due becomes blocked while every plant of it is withheld.
 * @param {Context} context @param {Finding} made @param {Finding[]} held
 */
function holdBack(context, made, held) {
  const { state, settles } = made;
  if ((state !== "due" && state !== "overdue") || settles === null) return;
  const against = held.filter((one) => one.blocks?.includes(settles.kind));
  if (!against.length) return;
  const planting = context.view.planting;
  const live = planting === null ? [UNCOUNTED] : livePlants(planting, context.today);
  const limits = against.map((one) => ({ one, named: new Set(one.subject.plants ?? []) }));
  const ends = (made.subject.plants ?? live).map((plant) => lastEnd(plant, limits));
  /** @type {End | undefined} */
  let first;
  for (const end of ends) {
    if (end === undefined) return;
    if (first === undefined || compareEnd(end, first) < 0) first = end;
  }
  if (first === undefined) return;
  const values = { ...made.message.values, until_instant: first.until };
  Object.assign(made, {
    was: state, state: "blocked", until: first.until, blocked_by: first.key,
    message: { key: "held.blocked", values },
  });
}

/** @param {End} one @param {End} other */
const compareEnd = (one, other) => one.until - other.until || compareText(one.key, other.key);

/**
 * When the plant is no longer withheld, and by which finding; undefined if it is not.
 * @param {number} plant @param {{one: Finding, named: Set<number>}[]} against
 */
function lastEnd(plant, against) {
  const ends = against
    .filter(({ one, named }) => one.subject.plants === undefined || named.has(plant))
    .map(({ one }) => ({ until: /** @type {number} */ (one.until), key: one.key }));
  return ends.sort(compareEnd).at(-1);
}
