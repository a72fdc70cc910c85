// @ts-check
/**
 * How evenly a line or a sprinkler waters a bed, from the cans that were set out last.
 * Twin of server/shedbook/rules/uniformity.py.
 */
import { AgronomyError } from "../agronomy/errors.js";
import {
  christiansen, depthPerHour, distributionUniformityLowQuarter,
} from "../agronomy/uniformity.js";
import { finding, keyPrefix, reason } from "./finding.js";
import { days, limit, number, since } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("./finding.js").Finding} Finding */

const DAY_S = 86_400;
/** A share is compared and shown in thousandths, so that no last bit decides. */
const STEPS = 1000;

/**
 * The figures of the last reading, flagged where a limit is not reached.
 * @param {Context} context @param {Rule} rule
 * @returns {Finding[]}
 */
export function uniformity(context, rule) {
  const last = lastReading(context, rule);
  if (last === null || context.declined.has(keyPrefix(context, rule) + last.id)) return [];
  const volumes = volumesOf(last);
  const shares = sharesOf(volumes);
  if (shares === null) {
    const few = [reason("uniformity.few", { cans: volumes.length, read_day: last.day })];
    return [finding(context, rule, last.id, "unknown", {}, few, [last])];
  }
  const values = { ...shares, cans: volumes.length };
  const why = [reason("uniformity.read", { read_day: last.day, ...values })];
  const speed = speedOf(last, volumes);
  if (speed !== null) why.push(reason("uniformity.speed", { hourly_mm: speed }));
  const { low_quarter_share } = shares;
  const limit_share = limit(context, rule, "least_low_quarter") ?? 0;
  if (low_quarter_share >= limit_share) {
    return [finding(context, rule, last.id, "noted", values, why, [last])];
  }
  why.push(reason("uniformity.below", { low_quarter_share, limit_share }));
  return [finding(context, rule, last.id, "flagged", values, why, [last])];
}

/** @param {Context} context @param {Rule} rule */
function lastReading(context, rule) {
  const events = context.byKind.get("catch_cans") ?? [];
  const oldest = since(events, context.now - days(context, rule, "lasts_days") * DAY_S);
  return events.length > oldest ? events[events.length - 1] : null;
}

/** @param {Event} event */
function volumesOf({ details }) {
  const given = Array.isArray(details.volumes_ml) ? details.volumes_ml : [];
  return given.map(number).filter((size) => size !== null).filter((size) => size >= 0);
}

/** Both figures, null where the cans can't tell them. @param {number[]} volumes */
function sharesOf(volumes) {
  try {
    return {
      low_quarter_share: thousandths(distributionUniformityLowQuarter(volumes)),
      even_share: thousandths(christiansen(volumes)),
    };
  } catch (error) {
    if (error instanceof AgronomyError) return null;
    throw error;
  }
}

/** @param {Event} event @param {number[]} volumes */
function speedOf({ details }, volumes) {
  const [area, minutes] = [number(details.can_area_cm2), number(details.duration_min)];
  if (area === null || minutes === null || area <= 0 || minutes <= 0) return null;
  return depthPerHour(volumes, area, minutes);
}

/** @param {number} share */
const thousandths = (share) => Math.floor(share * STEPS + 0.5) / STEPS;
