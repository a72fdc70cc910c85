// @ts-check
// What charts draw, taken from the log by the same functions that the rules count with.
import { viewOfPlanting } from "../log/view.js";
import { applies, contextOf } from "../rules/match.js";
import { airOf } from "./series/air.js";
import { lookedFor } from "./series/looked.js";
import { lossesBetween } from "./series/losses.js";
import { picksBy } from "./series/picks.js";

/** @typedef {import("./standing.js").Standing} Standing */
/** @typedef {import("../rules/match.js").Context} Context */
/** @typedef {import("../rules/match.js").Rule} Rule */
/** @typedef {import("./series/picks.js").Measure} Measure */
/** @typedef {ReturnType<typeof seriesIn>} Series */

const DAY_S = 86_400;

/**
 * @param {Standing} standing
 * @param {{today: number, now: number}} present
 */
export const seriesIn = (standing, present) => ({
  /** @param {string} planting @param {Measure} measure */
  picks: (planting, measure) => picksBy(standing.ledger.eventsOfPlanting(planting), measure),
  /** @param {string} bed @param {number} firstDay */
  losses: (bed, firstDay) => lossesBetween(eventsAt(standing, bed), firstDay, present.today),
  /** What a rule on fruit set holds against the air; null where there is none for the crop. */
  air: (/** @type {string} */ planting) => {
    const context = contextWhile(standing, planting, present);
    const rule = context && fruitSetRule(context);
    return context && rule ? airOf(context, rule) : null;
  },
  looked: (/** @type {string} */ planting) => {
    const context = contextWhile(standing, planting, present);
    const told = standing.ledger.planting(planting);
    if (!context || !told) return [];
    const first = Math.min(told.sown_day ?? Infinity, told.from_day ?? Infinity);
    return lookedFor(context, first === Infinity ? 0 : first, context.today);
  },
});

/**
 * A planting as it was seen today or, when it has ended, on its last day.
 * @param {Standing} standing @param {string} planting @param {{today: number, now: number}} present
 * @returns {Context | null}
 */
function contextWhile({ ledger, rulebook }, planting, { today, now }) {
  const view = viewOfPlanting(ledger, planting);
  if (view === null) return null;
  const until = view.planting?.until_day;
  if (until === undefined || until > today) return contextOf(view, rulebook, today, now);
  return contextOf(view, rulebook, until - 1, Math.min(now, until * DAY_S));
}

/** @param {Context} context */
function fruitSetRule(context) {
  const rules = /** @type {Rule[]} */ (/** @type {unknown} */ (context.rulebook.rules));
  return rules.find((rule) => rule.params.of === "fruit_set" && applies(context, rule));
}

/**
 * What happened in a bed or to a planting in it, each once.
 * @param {Standing} standing @param {string} bed
 */
function eventsAt({ ledger }, bed) {
  const own = ledger.plantings().filter((planting) => planting.bed === bed && !planting.hidden);
  const events = [
    ...ledger.eventsInBed(bed),
    ...own.flatMap((planting) => ledger.eventsOfPlanting(planting.id)),
  ];
  return new Map(events.map((event) => [event.id, event])).values();
}
