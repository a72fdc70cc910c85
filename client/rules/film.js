// @ts-check
/**
 * A bed under film that the sun heats: taken for weeks, and with no promise of what it does.
 * Twin of server/shedbook/rules/film.py.
 */
import { finding, reason } from "./finding.js";
import { days, number, text } from "./match.js";
import { startDay } from "./timing.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** The entry that laid the film, and the day on which it was lifted, if it was. */
/** @typedef {{event: Event, lifted: number | null}} Laid */

const WEEK_DAYS = 7;
const MOST_WEEKS = 520;

/**
 * On the bed how long the film lies, on a planting that it is planned or stands under it.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function film(context, rule) {
  if (context.view.bed === null) return [];
  const spans = spansOf(context);
  if (context.view.kind !== "planting") {
    return spans.filter((span) => span.lifted === null).map((span) => lying(context, rule, span));
  }
  return spans
    .flatMap((span) => under(context, rule, span))
    .filter((made) => !context.declined.has(made.key));
}

/**
 * Each laying with the lifting that ended it; one laid over another ends that one.
 * @param {Context} context
 */
function spansOf(context) {
  /** @type {Laid[]} */
  const spans = [];
  for (const event of context.byKind.get("solarise") ?? []) {
    if (event.bed !== context.view.bed?.id) continue;
    const last = spans[spans.length - 1];
    if (last !== undefined && last.lifted === null) last.lifted = event.day;
    if (event.details.step === "laid") spans.push({ event, lifted: null });
  }
  return spans;
}

/** @param {Event} event */
function plannedWeeks(event) {
  const weeks = number(event.details.planned_weeks);
  return weeks !== null && weeks > 0 && weeks <= MOST_WEEKS ? weeks : null;
}

/** @param {Context} context @param {Rule} rule @param {Laid} span @returns {Finding} */
function lying(context, rule, { event }) {
  const laid = event.day;
  const planned = plannedWeeks(event);
  const weeks = Math.floor(Math.max(context.today - laid, 0) / WEEK_DAYS);
  /** @type {Record<string, unknown>} */
  const values = { laid_day: laid, weeks };
  let says = "noted";
  if (planned !== null) {
    values.planned_weeks = planned;
    says = context.today >= laid + planned * WEEK_DAYS ? "done" : "planned";
  }
  const [least, most] = [days(context, rule, "weeks"), days(context, rule, "weeks_at_most")];
  const advised = { weeks: least, weeks_at_most: most, source: "ucipm-solarization" };
  const why = [
    reason("film.laid", { laid_day: laid, until_day: context.today }),
    reason("film.weeks", advised),
  ];
  if (planned !== null && planned < least) {
    why.push(reason("film.short", { planned_weeks: planned, weeks: least }));
  }
  const colour = text(event.details.film);
  if (colour !== null && colour !== "clear") why.push(reason("film.not_clear", { film: colour }));
  why.push(reason("film.moist"), reason("film.no_promise"), reason("film.lift"));
  const made = finding(context, rule, event.id, "noted", values, why, [event]);
  made.message.key = `film.${says}`;
  return { ...made, settles: null };
}

/**
 * A flag when plants stood there as the film was laid, or come before it is to be lifted.
 * @param {Context} context @param {Rule} rule @param {Laid} span
 * @returns {Finding[]}
 */
function under(context, rule, span) {
  const planting = /** @type {Planting} */ (context.view.planting);
  const start = startDay(planting);
  const laid = span.event.day;
  if (start === null) return [];
  const end = endOf(context, rule, span);
  const until = planting.until_day;
  const stood = planting.from_day !== undefined && start < laid;
  const isStanding = stood && (until === undefined || until > laid);
  if (!isStanding && !(laid <= start && start < end)) return [];
  const values = { laid_day: laid, start_day: start, end_day: end, crop: planting.crop ?? null };
  const why = [reason(span.lifted === null ? "film.until" : "film.lifted", values)];
  const proof = [span.event, planting];
  const made = finding(context, rule, span.event.id, "flagged", values, why, proof);
  made.message.key = isStanding ? "film.stands" : "film.flagged";
  return [made];
}

/**
 * When it was or is to be lifted; film that lies longer than planned lies today still.
 * @param {Context} context @param {Rule} rule @param {Laid} span
 */
function endOf(context, rule, { event, lifted }) {
  if (lifted !== null) return lifted;
  const weeks = plannedWeeks(event) ?? days(context, rule, "weeks_at_most");
  return Math.max(event.day + Math.floor(weeks * WEEK_DAYS), context.today + 1);
}
