// @ts-check
/**
 * Troubles that stay in the soil: which were seen in a bed, whom they live on, and for how long.
 * The rulebook's `hosts` say both; what is not among them is not taken for a trouble of the soil.
 * Twin of server/shedbook/rules/hosts.py.
 */
import { reason } from "./finding.js";
import { compareTime, familyOf, limit, number, text } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("../types.js").Message} Reason */
/** @typedef {{years: number, years_from?: number, source: string, crops?: string[]}} Advice */
/**
 * @typedef {{crops?: string[], families?: string[], host_sources: string[], persists?: string,
 *   survives_years?: number, survives_source?: string, years: Advice[]}} Hosts
 */

export const MOST_YEARS = 100;
/** The kinds that name a trouble, and in which field. @type {[string, string][]} */
const TOLD_BY = [
  ["spot", "trouble"],
  ["scout", "organism"],
  ["inspect", "trouble"],
  ["signs", "suspected"],
];

/**
 * What the rulebook says of every trouble that stays in the soil.
 * @param {Context} context
 * @returns {Record<string, Hosts>}
 */
export const hostsOf = ({ rulebook }) =>
  /** @type {{hosts?: Record<string, Hosts>}} */ (/** @type {unknown} */ (rulebook)).hosts ?? {};

/** @param {Context} context @param {string | null} trouble */
export const isListed = (context, trouble) =>
  trouble !== null && Object.hasOwn(hostsOf(context), trouble);

/** The ids of all troubles of the soil, sorted. @param {Context} context */
export const listed = (context) => Object.keys(hostsOf(context)).sort();

/**
 * The entries that tell of each trouble in this bed, earliest first, by the trouble's id.
 * @param {Context} context
 * @returns {Map<string, Event[]>}
 */
export function troublesSeen(context) {
  const known = context.known.get("troubles_seen");
  if (known !== undefined) return /** @type {Map<string, Event[]>} */ (known);
  /** @type {Map<string, Event[]>} */
  const seen = new Map();
  context.known.set("troubles_seen", seen);
  const stood = new Map(context.view.residents.map((one) => [one.id, one.from_day]));
  for (const [kind, field] of TOLD_BY) {
    for (const event of context.byKind.get(kind) ?? []) {
      const trouble = text(event.details[field]);
      if (trouble === null || !isListed(context, trouble)) continue;
      if (!isHere(context, stood, event) || !wasFound(event)) continue;
      seen.set(trouble, [...(seen.get(trouble) ?? []), event]);
    }
  }
  for (const events of seen.values()) events.sort(compareTime);
  return seen;
}

/**
 * What was seen on plants in a tray did not come from the bed that waits for them.
 * @param {Context} context @param {Map<string, number | undefined>} stood @param {Event} event
 */
function isHere(context, stood, event) {
  const { bed } = context.view;
  if (bed === null || event.bed !== bed.id) return false;
  if (event.planting === undefined || !stood.has(event.planting)) return true;
  const since = stood.get(event.planting);
  return since !== undefined && since <= event.day;
}

/** A look that found nothing tells of no trouble. @param {Event} event */
function wasFound({ kind, details }) {
  if (kind === "inspect") return details.result === "suspect";
  if (kind !== "scout") return true;
  const counted = Math.max(number(details.plants_affected) ?? 0, number(details.count) ?? 0);
  const grade = text(details.grade);
  return (grade !== null && ["few", "some", "many"].includes(grade)) || counted > 0;
}

/**
 * Does the trouble live on this crop?
 * @param {Context} context @param {Planting} planting @param {string} trouble
 */
export function isHost(context, planting, trouble) {
  const row = hostsOf(context)[trouble];
  const crop = text(planting.crop);
  const family = familyOf(context, planting);
  if (crop !== null && (row.crops ?? []).includes(crop)) return true;
  return family !== null && (row.families ?? []).includes(family);
}

/**
 * The garden's own number of years, else the longest that a source advises.
 * @param {Context} context @param {Rule} rule @param {string} trouble
 */
export function yearsApart(context, rule, trouble) {
  const chosen = limit(context, rule, `${trouble}_years`);
  if (chosen !== null) return Math.min(Math.floor(chosen), MOST_YEARS);
  const advised = hostsOf(context)[trouble].years.map((one) => one.years);
  return advised.length ? Math.max(...advised) : null;
}

/**
 * What each source says of the years, and what is known of how it lasts.
 * @param {Context} context @param {Rule} rule @param {string} trouble
 */
export function advice(context, rule, trouble) {
  const row = hostsOf(context)[trouble];
  /** @type {Reason[]} */
  const told = [];
  const chosen = limit(context, rule, `${trouble}_years`);
  if (chosen !== null) told.push(reason("soil.own_years", { years: Math.floor(chosen) }));
  told.push(...row.years.map(advised));
  if (!row.years.length) told.push(reason("soil.no_years", { source: row.host_sources[0] }));
  if (row.survives_years !== undefined) {
    const values = { years: row.survives_years, source: row.survives_source };
    told.push(reason("soil.survives", values));
  }
  if (row.persists !== undefined) told.push(reason(`soil.persists.${row.persists}`));
  return told;
}

/** @param {Advice} one */
function advised({ years, years_from: from, source, crops }) {
  if (from !== undefined) {
    return reason("soil.advised_span", { years, source, years_from: from });
  }
  if (crops === undefined) return reason("soil.advised", { years, source });
  return reason("soil.advised_for", { years, source, crops });
}

/**
 * The day from which the years count, and the planting that set it, if one did. `hosts` are
 * plantings to look at; one that still stands, or was out after the trouble was first seen, moves
 * the day. Without `until_day` the answer's planting still stands.
 * @param {Context} context @param {string} trouble @param {Event[]} seen @param {Planting[]} hosts
 * @returns {{since: number, by: Planting | null}}
 */
export function lastHost(context, trouble, seen, hosts) {
  let since = seen[seen.length - 1].day;
  /** @type {Planting | null} */
  let by = null;
  for (const one of hosts) {
    const until = one.until_day;
    if (!isHost(context, one, trouble)) continue;
    if (until === undefined) return { since, by: one };
    if (until >= seen[0].day && until > since) {
      since = until;
      by = one;
    }
  }
  return { since, by };
}
