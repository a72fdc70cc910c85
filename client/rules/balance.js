// @ts-check
/**
 * Whether a bed needs water: its root zone's account against the share of water that may go.
 * Twin of server/shedbook/rules/balance.py.
 */
import { litresToRefill, minutesToGive } from "../agronomy/watering.js";
import { finding, reason } from "./finding.js";
import { limit } from "./match.js";
import { WEEK_DAYS, accountOf, lastWatering } from "./water_account.js";
import { dayReached } from "./water_outlook.js";
import { reasonsForNeeds, reasonsOf } from "./water_reasons.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */
/** @typedef {import("./finding.js").Reason} Reason */
/** @typedef {import("./water_account.js").Account} Account */
/** @typedef {import("./water_account.js").Line} Line */

/** Depths are compared in tenths of a millimetre, so that no last bit decides. */
const STEPS = 10;
const WHOLE_LITRES_FROM = 10;

/**
 * Give so much now, or give none for so many days; unknown where the two ends differ.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function balance(context, rule) {
  const account = accountOf(context, rule);
  if (account === null) return [];
  const last = lastWatering(context);
  const found = "needs" in account
    ? [made(context, rule, "account", "unknown", {}, reasonsForNeeds(account), [])]
    : [stateOf(context, rule, account, last), ...tooMuch(context, rule, account, last)];
  return found.filter((one) => !context.declined.has(one.key));
}

/**
 * What fills the bed again, as one would measure it out.
 * @param {Account} account @param {Line} line
 */
export function suggestedLitres(account, line) {
  // The depletion is told over the whole bed already.
  const litres = litresToRefill(line.depletion_mm, account.keeper.ground.area_m2, 1);
  const steps = litres >= WHOLE_LITRES_FROM ? 1 : STEPS;
  return Math.floor(litres * steps + 0.5) / steps;
}

/** A depth in whole tenths of a millimetre. @param {number} depthMm */
const tenths = (depthMm) => Math.floor(depthMm * STEPS + 0.5);

/** Days in a row up to yesterday that ended with all gone that may go. @param {Line[]} lines */
function lateDaysOf(lines) {
  let late = 0;
  for (let at = lines.length - 2; at >= 0; at -= 1) {
    if (tenths(lines[at].depletion_mm) < tenths(lines[at].raw_mm)) break;
    late += 1;
  }
  return late;
}

/**
 * @param {Context} context @param {Rule} rule @param {Account} account @param {Event | null} last
 */
function stateOf(context, rule, account, last) {
  const now = account.lines[account.lines.length - 1];
  const isDueDry = tenths(now.dry_mm) >= tenths(now.dry_raw_mm);
  const isDueWet = tenths(now.wet_mm) >= tenths(now.wet_raw_mm);
  /** @type {Finding["state"]} */
  let state = "noted";
  /** @type {Record<string, number>} */
  let values = { depletion_mm: now.depletion_mm, raw_mm: now.raw_mm };
  let late = null;
  if (isDueDry !== isDueWet) {
    state = "unknown";
  } else if (isDueDry) {
    late = lateDaysOf(account.lines);
    values = { ...values, ...amount(account, now), late_days: late };
    state = late > (limit(context, rule, "late_after_days") ?? 0) ? "overdue" : "due";
  } else {
    values.left_mm = Math.max(now.raw_mm - now.depletion_mm, 0);
    const reached = dayReached(account);
    if (reached !== null) values.reach_day = reached;
  }
  const why = reasonsOf(context, rule, account, state, last, values);
  const proof = last === null ? [] : [last];
  const told = made(context, rule, last?.id ?? "start", state, values, why, proof);
  if (late !== null) Object.assign(told, { opens: context.today - late, due: context.today - late });
  return told;
}

/** @param {Account} account @param {Line} now @returns {Record<string, number>} */
function amount(account, now) {
  const volume_l = suggestedLitres(account, now);
  const flow = account.keeper.ground.flow_l_per_min;
  if (flow === null) return { volume_l };
  const minutes = Math.floor(minutesToGive(volume_l, flow) + 0.5);
  return { volume_l, duration_min: Math.max(minutes, 1) };
}

/**
 * More than the roots could reach, some of it given by hand, in the last seven days.
 * @param {Context} context @param {Rule} rule @param {Account} account @param {Event | null} last
 */
function tooMuch(context, rule, { lines }, last) {
  let [full, drained, given, rain] = [0, 0, 0, 0];
  for (const line of lines.slice(-1 - WEEK_DAYS, -1)) {
    if (tenths(line.surely_drained_mm) > 0) full += 1;
    drained += line.surely_drained_mm;
    given += line.given_mm;
    rain += line.rain_mm;
  }
  const mostDays = limit(context, rule, "full_days");
  const mostMm = limit(context, rule, "drained_mm");
  const isOver = (mostDays !== null && mostDays > 0 && full >= mostDays)
    || (mostMm !== null && mostMm > 0 && drained >= mostMm);
  if (last === null || given === 0 || !isOver) return [];
  const values = {
    full_days: full, drained_mm: drained, given_mm: given, rain_mm: rain, limit_days: mostDays,
    limit_mm: mostMm,
  };
  const why = [reason("balance.too_much", { ...values })];
  return [made(context, rule, `full.${last.id}`, "flagged", values, why, [last])];
}

/**
 * @param {Context} context @param {Rule} rule @param {string} ordinal
 * @param {Finding["state"]} state @param {Record<string, unknown>} values
 * @param {Reason[]} why @param {Event[]} proof
 */
function made(context, rule, ordinal, state, values, why, proof) {
  const told = finding(context, rule, ordinal, state, values, why, proof);
  return state === "due" || state === "overdue" ? told : { ...told, settles: null };
}
