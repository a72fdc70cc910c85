// @ts-check
/**
 * What a water account's answer rests on, in keys and numbers, and what would change it.
 * Twin of server/shedbook/rules/water_reasons.py.
 */
import { reason } from "./finding.js";
import { limit, text } from "./match.js";
import { WEEK_DAYS, demandFor, thirstFor } from "./water_account.js";
import { depletionAfter } from "./water_outlook.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./water_account.js").Account} Account */
/** @typedef {import("./water_account.js").Needs} Needs */
/** @typedef {import("./water_account.js").Line} Line */
/** @typedef {import("./finding.js").Reason} Reason */

/**
 * What must be given before the account can be kept, one line each.
 * @param {Needs} needs
 */
export const reasonsForNeeds = ({ needs, missing_day, without_facts }) =>
  needs.flatMap((need) => {
    if (need === "temperature" || need === "rain") {
      return [reason(`balance.needs_${need}`, { missing_day })];
    }
    return need === "crop" ? withoutFacts(without_facts) : [reason(`balance.needs_${need}`)];
  });

/**
 * Every number that went into the answer.
 * @param {Context} context @param {Rule} rule @param {Account} account @param {string} state
 * @param {Event | null} last @param {Record<string, unknown>} values
 */
export function reasonsOf(context, rule, account, state, last, values) {
  const { ground } = account.keeper;
  const why = [
    ends(account, state), since(account, last), thirst(account), held(account),
    outlook(account, values),
  ];
  if (values.duration_min !== undefined) {
    const { duration_min } = values;
    why.push(reason("balance.minutes", { duration_min, flow_l_per_min: ground.flow_l_per_min }));
  }
  why.push(reason(`balance.start_${account.start}`, { start_day: account.lines[0].day }));
  why.push(...daysGoneBy(account.lines), ...unsure(context, rule, account));
  why.push(...withoutFacts(account.without_facts));
  if (state === "unknown") {
    why.push(reason(`balance.answer_${ground.is_container ? "container" : "bed"}`));
  }
  return why;
}

/** @param {Account} account */
const nowOf = ({ lines }) => lines[lines.length - 1];

/** @param {Account} account @param {string} state */
function ends(account, state) {
  const now = nowOf(account);
  // A small dry store may have lost less than a large wet one holds.
  return reason(state === "unknown" ? "balance.spans" : "balance.range", {
    low_mm: Math.min(now.wet_mm, now.dry_mm),
    high_mm: Math.max(now.wet_mm, now.dry_mm),
    low_raw_mm: now.dry_raw_mm,
    high_raw_mm: now.wet_raw_mm,
  });
}

/**
 * What came and went since the last watering, or since the account began.
 * @param {Account} account @param {Event | null} last
 */
function since({ lines }, last) {
  const start = lines[0].day;
  const isWatered = last !== null && last.day >= start;
  const day = last !== null && isWatered ? last.day : start;
  let [used, rain, given] = [0, 0, 0];
  for (const line of lines) {
    if (line.day < day) continue;
    used += line.used_mm;
    rain += line.rain_mm;
    given += line.given_mm;
  }
  const values = { since_day: day, used_mm: used, rain_mm: rain, given_mm: given };
  return reason(isWatered ? "balance.since_water" : "balance.since_start", values);
}

/** @param {Account} account */
function thirst(account) {
  const { keeper, mean_et0_mm: loss } = account;
  const demand = demandFor(keeper, nowOf(account).day);
  const key = keeper.thirsts.length > 1 ? "balance.thirst_several" : "balance.thirst";
  const kc = demand.kc * keeper.ground.crown_factor;
  return reason(key, { kc, et0_mm: loss, day_mm: thirstFor(keeper, demand, loss) });
}

/** @param {Account} account */
function held(account) {
  const { day, taw_mm, raw_mm } = nowOf(account);
  const { keeper } = account;
  if (keeper.ground.is_container) return reason("balance.held_container", { taw_mm, raw_mm });
  const root_mm = demandFor(keeper, day).root_m * 1000;
  return reason("balance.held", { root_mm, taw_mm, raw_mm });
}

/**
 * Seven days with neither rain nor water, each as thirsty as the last seven.
 * @param {Account} account @param {Record<string, unknown>} values
 */
function outlook(account, values) {
  const { reach_day } = values;
  if (reach_day !== undefined) return reason("balance.reached", { reach_day });
  const week_mm = depletionAfter(account, WEEK_DAYS);
  return reason("balance.week", { week_mm, taw_mm: nowOf(account).taw_mm });
}

/**
 * Of the days gone by: how many held growth back, and how many were evenly moist.
 * @param {Line[]} lines
 */
function daysGoneBy(lines) {
  const account_days = lines.length - 1;
  if (account_days === 0) return [];
  let [stress_days, even] = [0, 0];
  for (const line of lines.slice(0, -1)) {
    if (line.ks < 1) stress_days += 1;
    if (line.depletion_mm <= line.raw_mm && line.surely_drained_mm === 0) even += 1;
  }
  return [
    reason("balance.stress", { stress_days, account_days }),
    reason("balance.even", { even_share: even / account_days, account_days }),
  ];
}

/**
 * What makes the two ends differ beside the soil.
 * @param {Context} context @param {Rule} rule @param {Account} account
 */
function unsure(context, rule, { keeper, lines }) {
  const { wetted_share, says_wetted } = keeper.ground;
  const filled_days = lines.filter((line) => line.is_filled).length;
  const water_days = lines.filter((line) => !line.is_measured).length;
  const error_c = limit(context, rule, "fill_error_c");
  return [
    ...(filled_days ? [reason("balance.filled", { filled_days, error_k: error_c })] : []),
    ...(water_days ? [reason("balance.unmeasured", { water_days })] : []),
    ...(wetted_share < 1 ? [reason("balance.wetted", { wetted_share })] : []),
    ...(says_wetted ? [] : [reason("balance.wetted_unsaid")]),
  ];
}

/** @param {Planting[]} plantings @returns {Reason[]} */
const withoutFacts = (plantings) =>
  [...new Set(plantings.map((planting) => text(planting.crop)))]
    .map((crop) => reason("balance.no_facts", { crop }));
