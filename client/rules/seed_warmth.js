// @ts-check
/**
 * How warm the seed of one sowing lay, day by day, from the readings that were taken there.
 *
 * In the ground a reading of the planting goes before one of its bed, and that before one of the
 * whole garden. Of a tray only its own readings count: its soil, or else the mean of its air.
 * Between two readings the temperature is drawn on a straight line, after the last one it is held,
 * for so many days as the row says. Twin of server/shedbook/rules/seed_warmth.py.
 */
import { COLDEST_C, FARTHEST, WARMEST_C, eventsInDays } from "./daily.js";
import { number } from "./match.js";

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** Mean temperature by day of reading, and what was read: soil or air.
 * @typedef {{days: number[], tempsC: number[], what: "soil" | "air"}} Warmth */
/** @typedef {Map<number, {near: number, temps: number[]}>} Readings */

/**
 * The readings around the seed up to today, with those shortly before the sowing.
 * @param {Context} context @param {Planting} planting @param {Event} sow @param {number} heldDays
 * @returns {Warmth}
 */
export function seedWarmth(context, planting, sow, heldDays) {
  const [first, last] = [sow.day - heldDays, context.today];
  const inGround = sow.details.place === "direct";
  /** @type {Readings} */
  const soil = new Map();
  take(soil, sow.day, 0, readOf(sow, "soil_c"));
  for (const event of eventsInDays(context, "soil_temperature", first, last)) {
    const near = nearness(event, planting);
    if (near !== null && (inGround || near === 0)) {
      take(soil, event.day, near, readOf(event, "temperature_c"));
    }
  }
  if (soil.size || inGround) return warmthOf(soil, "soil");
  /** @type {Readings} */
  const air = new Map();
  for (const event of eventsInDays(context, "air_temperature", first, last)) {
    const [low, high] = [readOf(event, "low_c"), readOf(event, "high_c")];
    if (event.planting === planting.id && low !== null && high !== null) {
      take(air, event.day, 0, (low + high) / 2);
    }
  }
  return warmthOf(air, "air");
}

/**
 * The temperature of one day; null where the nearest reading is too far.
 * @param {Warmth} warmth @param {number} day @param {number} heldDays
 */
export function temperatureOn(warmth, day, heldDays) {
  const { days, tempsC } = warmth;
  /** @type {number | null} */
  let before = null;
  /** @type {number | null} */
  let after = null;
  for (const [at, readDay] of days.entries()) {
    if (readDay <= day) before = at;
    else if (after === null) after = at;
  }
  if (before === null) return held(warmth, after, day, heldDays);
  if (after === null || days[before] === day) return held(warmth, before, day, heldDays);
  const [start, end] = [days[before], days[after]];
  if (end - start - 1 > heldDays) return null;
  return tempsC[before] + (tempsC[after] - tempsC[before]) * ((day - start) / (end - start));
}

/** @param {Warmth} warmth @param {number | null} at @param {number} day @param {number} heldDays */
function held(warmth, at, day, heldDays) {
  if (at === null) return null;
  return Math.abs(day - warmth.days[at]) <= heldDays ? warmth.tempsC[at] : null;
}

/**
 * 0 at the planting, 1 at its bed, 2 anywhere in the garden; null at another place.
 * @param {Event} event @param {Planting} planting
 */
function nearness(event, planting) {
  if (event.planting !== undefined) return event.planting === planting.id ? 0 : null;
  if (event.bed === undefined) return FARTHEST;
  return event.bed === planting.bed ? 1 : null;
}

/** @param {Event} event @param {string} field */
function readOf(event, field) {
  const value = number(event.details[field]);
  return value !== null && value >= COLDEST_C && value <= WARMEST_C ? value : null;
}

/**
 * Keep a reading, unless a nearer one of its day is known; as near ones are averaged.
 * @param {Readings} read @param {number} day @param {number} near @param {number | null} tempC
 */
function take(read, day, near, tempC) {
  const known = read.get(day);
  if (tempC === null || (known !== undefined && known.near < near)) return;
  if (known === undefined || near < known.near) read.set(day, { near, temps: [tempC] });
  else known.temps.push(tempC);
}

/** @param {Readings} read @param {"soil" | "air"} what @returns {Warmth} */
function warmthOf(read, what) {
  const sorted = [...read].sort(([one], [other]) => one - other);
  return {
    days: sorted.map(([day]) => day),
    tempsC: sorted.map(([, { temps }]) => meanOf(temps)),
    what,
  };
}

/** @param {number[]} tempsC */
function meanOf(tempsC) {
  let total = 0;
  for (const tempC of tempsC) total += tempC;
  return total / tempsC.length;
}
