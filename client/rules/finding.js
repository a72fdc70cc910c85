// @ts-check
/**
 * How a finding is put together: keys and numbers, never prose.
 * Twin of server/shedbook/rules/finding.py.
 */
import { days } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("../types.js").Message} Reason */
/** @typedef {import("../types.js").Finding} Finding */

export const HORIZON_DAYS = 14;

/**
 * What the keys of the rule's findings on this subject begin with.
 * @param {Context} context @param {Rule} rule
 */
export function keyPrefix(context, rule) {
  const { kind, subject } = context.view;
  return `${rule.id}/${kind}:${subject[kind]}/`;
}

/**
 * One step of the arithmetic.
 * @param {string} key @param {Record<string, unknown>} [values]
 * @returns {Reason}
 */
export const reason = (key, values = {}) => ({ key, values });

/**
 * A finding with no window yet; `proof` are the events or plantings that prove it.
 * @param {Context} context @param {Rule} rule @param {string} ordinal
 * @param {Finding["state"]} state @param {Record<string, unknown>} values
 * @param {Reason[]} reasons @param {{id: string}[]} proof
 * @returns {Finding}
 */
export function finding(context, rule, ordinal, state, values, reasons, proof) {
  const advice = rule.advises ? [reason(`advice.${rule.id}`, { ...rule.advises })] : [];
  return {
    key: keyPrefix(context, rule) + ordinal,
    rule: rule.id,
    subject: { ...context.view.subject },
    state,
    opens: null,
    due: null,
    closes: null,
    from: null,
    until: null,
    entries: proof.map((one) => one.id),
    settles: rule.settles ?? null,
    message: { key: `${rule.says ?? rule.shape}.${state}`, values },
    reasons: [...reasons, ...advice],
  };
}

/**
 * A finding with a window of days, null while it is further off than the horizon.
 * @param {Context} context @param {Rule} rule @param {string} ordinal @param {number} due
 * @param {Reason[]} reasons @param {{id: string}[]} proof
 */
export function dayFinding(context, rule, ordinal, due, reasons, proof) {
  const opens = due - days(context, rule, "opens_before_days");
  const closes = due + days(context, rule, "closes_after_days");
  const today = context.today;
  if (opens - today > HORIZON_DAYS) return null;
  const state = today < opens ? "upcoming" : today <= closes ? "due" : "overdue";
  /** @type {Record<string, number>} */
  const values = { due_day: due };
  if (state === "overdue") values.late_days = today - due;
  else if (state === "upcoming") values.ahead_days = due - today;
  const made = finding(context, rule, ordinal, state, values, reasons, proof);
  return { ...made, opens, due, closes };
}

/**
 * Say which plants it is about, unless it is about all that live.
 * @param {Finding} made @param {number[]} plants @param {number[]} live
 */
export function namePlants(made, plants, live) {
  if (plants.length < live.length) {
    const sorted = [...plants].sort((one, other) => one - other);
    made.subject.plants = sorted;
    made.reasons.push(reason("only_plants", { plants: sorted }));
  }
}
