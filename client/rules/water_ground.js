// @ts-check
/**
 * What a bed's water account stands on: its area, its soil, and how much water each event gave.
 *
 * Depths are millimetres over the whole bed. Where drip or a soaker hose wets only a part of it,
 * only the soil of that part holds water for the roots; what rain leaves beside it is not counted.
 * Twin of server/shedbook/rules/water_ground.py.
 */
import { PI } from "../agronomy/elementary.js";
import { containerAvailableWater } from "../agronomy/soil_water.js";
import { depthOfVolume, volumeGiven } from "../agronomy/watering.js";
import { limit, number, own, text } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Rule} Rule */
/** @typedef {import("../types.js").Bed} Bed */
/** Dry, middle and wet. @typedef {[number, number, number]} Three */
/**
 * A bed as its account sees it. `held` is water between full and wilting: as a share of the soil,
 * or as mm in all of a container.
 * @typedef {{area_m2: number, wetted_share: number, crown_factor: number, held: Three,
 *   is_container: boolean, latitude_deg: number, flow_l_per_min: number | null,
 *   says_wetted: boolean}} Ground
 */

const FARTHEST_LATITUDE_DEG = 65;
const PARTLY_WETTING = ["drip", "soaker"];
const LEAST_HELD = 0.001;
const MOST_HELD = 1;

/**
 * The ground, or null with the names of all that must be given first.
 * @param {Context} context @param {Rule} rule
 * @returns {{ground: Ground | null, needs: string[]}}
 */
export function groundOf(context, rule) {
  /** @type {Record<string, unknown>} */
  const bed = context.view.bed ?? {};
  const isContainer = bed.type === "container";
  const latitude = number(context.view.settings.latitude_deg);
  const area = areaOf(bed, isContainer);
  let shares = isContainer ? containerShares(context, rule, bed) : soilShares(context, bed);
  const volume = positive(bed.volume_l);
  const needs = [];
  if (latitude === null || Math.abs(latitude) > FARTHEST_LATITUDE_DEG) needs.push("latitude");
  if (area === null) needs.push(isContainer ? "across" : "area");
  if (shares === null) needs.push("soil");
  if (isContainer && volume === null) needs.push("volume");
  if (needs.length || latitude === null || area === null || shares === null) {
    return { ground: null, needs };
  }
  if (isContainer && volume !== null) {
    const [low, middle, high] = shares.map((one) => containerAvailableWater(volume, one) / area);
    shares = [low, middle, high];
  }
  const factor = limit(context, rule, "crown_factor");
  const wetted = isContainer ? null : wettedShare(bed);
  const ground = {
    area_m2: area,
    wetted_share: wetted ?? 1,
    crown_factor: factor === null ? 1 : Math.min(Math.max(factor, 0.1), 5),
    held: shares,
    is_container: isContainer,
    latitude_deg: latitude,
    flow_l_per_min: positive(bed.flow_l_per_min),
    says_wetted: isContainer || wetted !== null || !wetsPartly(bed),
  };
  return { ground, needs };
}

/**
 * Millimetres over the bed that a watering gave; null when that was not measured.
 * @param {Ground} ground @param {Event} event
 */
export function depthGiven(ground, { details }) {
  const volume = positive(details.volume_l);
  const depth = positive(details.depth_mm);
  const minutes = positive(details.duration_min);
  const flow = positive(details.flow_l_per_min) ?? ground.flow_l_per_min;
  if (volume !== null) return depthOfVolume(volume, ground.area_m2);
  if (depth !== null) return depth * ground.wetted_share;
  if (minutes !== null && flow !== null) {
    return depthOfVolume(volumeGiven(minutes, flow), ground.area_m2);
  }
  return null;
}

/** @param {unknown} value */
function positive(value) {
  const size = number(value);
  return size !== null && size > 0 ? size : null;
}

/** @param {unknown} value */
function percent(value) {
  const size = positive(value);
  return size !== null && size <= 100 ? size : null;
}

/** @param {Record<string, unknown>} bed */
const wetsPartly = (bed) => PARTLY_WETTING.includes(text(bed.water_method) ?? "");

/** @param {Record<string, unknown>} bed @param {boolean} isContainer */
function areaOf(bed, isContainer) {
  const across = positive(bed.across_m);
  if (isContainer && across !== null) return (PI / 4) * across * across;
  const [length, width] = [positive(bed.length_m), positive(bed.width_m)];
  return length === null || width === null ? null : length * width;
}

/**
 * What drip or a soaker hose wets of the bed; null where all is wetted or it was not said.
 * @param {Record<string, unknown>} bed
 */
function wettedShare(bed) {
  const share = percent(bed.wetted_percent);
  return wetsPartly(bed) && share !== null ? share / 100 : null;
}

/**
 * Share of the soil that is water which roots can take, where the grower measured it.
 * @param {Record<string, unknown>} bed
 */
function ownShare(bed) {
  const [full, dry] = [percent(bed.field_capacity_percent), number(bed.wilting_point_percent)];
  return full === null || dry === null || dry < 0 || dry >= full ? null : (full - dry) / 100;
}

/**
 * The least, the middle and the most that such soil holds, by its texture.
 * @param {Context} context @param {Record<string, unknown>} bed
 * @returns {Three | null}
 */
function soilShares(context, bed) {
  const measured = ownShare(bed);
  if (measured !== null) return three(measured, measured);
  const texture = text(bed.soil_texture);
  const soil = texture === null ? null : own(context.rulebook.soils, texture);
  const [low, high] = [number(own(soil, "available_low")), number(own(soil, "available_high"))];
  return low === null || high === null ? null : three(low, high);
}

/**
 * The same of a potting mix, as the row or the grower has it.
 * @param {Context} context @param {Rule} rule @param {Record<string, unknown>} bed
 * @returns {Three | null}
 */
function containerShares(context, rule, bed) {
  const measured = ownShare(bed);
  if (measured !== null) return three(measured, measured);
  const low = limit(context, rule, "mix_low_percent");
  const high = limit(context, rule, "mix_high_percent");
  return low === null || high === null ? null : three(low / 100, high / 100);
}

/** @param {number} one @param {number} other @returns {Three} */
function three(one, other) {
  const low = Math.min(Math.max(Math.min(one, other), LEAST_HELD), MOST_HELD);
  const high = Math.min(Math.max(one, other, LEAST_HELD), MOST_HELD);
  return [low, (low + high) / 2, high];
}
