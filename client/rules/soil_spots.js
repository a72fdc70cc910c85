// @ts-check
/**
 * Troubles of the soil that stay on a bed's page for years, and for how long its hosts stay out.
 * Twin of server/shedbook/rules/soil_spots.py.
 */
import { addYears } from "../log/moment.js";
import { finding, reason } from "./finding.js";
import { advice, isListed, lastHost, troublesSeen, yearsApart } from "./hosts.js";
import { text } from "./match.js";
import { byName } from "./soil_rest.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

/**
 * A note for each trouble that was seen in the bed; unknown where no years are known.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function soilSpots(context, rule) {
  const found = byName(troublesSeen(context)).map(
    ([trouble, seen]) => ofTrouble(context, rule, trouble, seen));
  for (const event of context.byKind.get("spot") ?? []) {
    const trouble = text(event.details.trouble);
    if (event.bed === context.view.bed?.id && trouble !== null && !isListed(context, trouble)) {
      found.push(notListed(context, rule, event));
    }
  }
  return found.filter((made) => !context.declined.has(made.key));
}

/**
 * @param {Context} context @param {Rule} rule @param {string} trouble @param {Event[]} seen
 */
function ofTrouble(context, rule, trouble, seen) {
  const stood = context.view.residents.filter((one) => one.from_day !== undefined);
  const { since, by } = lastHost(context, trouble, seen, stood);
  /** @type {Record<string, unknown>} */
  let values = {
    trouble, seen_day: seen[0].day, last_day: seen[seen.length - 1].day,
    spots: seen.filter((event) => event.kind === "spot").length,
  };
  const why = [reason("spots.seen", values)];
  const years = yearsApart(context, rule, trouble);
  /** @type {Finding["state"]} */
  let state = "noted";
  let says = "stands";
  if (by !== null && by.until_day === undefined) {
    why.push(reason("soil.host_stands", { other_planting: by.id, trouble }));
  } else if (years === null) {
    [says, state] = ["unknown", "unknown"];
    why.push(reason("soil.set_years"));
  } else {
    const free = addYears(since, years);
    values = { ...values, years, since_day: since, free_day: free };
    says = context.today < free ? "running" : "passed";
    why.push(reason("spots.counted", values));
  }
  why.push(...advice(context, rule, trouble), reason("spots.stays"));
  const proof = by === null ? seen : [...seen, by];
  const made = finding(context, rule, trouble, state, values, why, proof);
  made.message.key = `spots.${says}`;
  return made;
}

/**
 * A place was marked for a trouble whose hosts are not known here.
 * @param {Context} context @param {Rule} rule @param {Event} event
 */
function notListed(context, rule, event) {
  const values = { trouble: event.details.trouble, seen_day: event.day };
  const why = [reason("spots.not_listed", values)];
  const made = finding(context, rule, event.id, "unknown", values, why, [event]);
  made.message.key = "spots.not_listed";
  return made;
}
