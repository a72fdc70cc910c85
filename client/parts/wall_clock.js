// @ts-check
// Between the clock on the garden's wall, as an input shows it, and the moment that an entry holds.
import { parseMoment } from "../log/moment.js";
import { presentIn, two } from "../zone.js";

/**
 * "2026-06-01T07:40" in the garden's zone, as an input of type datetime-local wants it.
 * @param {string} zone
 * @param {number} ms
 */
export const wallClock = (zone, ms) => presentIn(zone, ms).text.slice(0, 16);

/**
 * The moment at a reading of the garden's wall clock. In the hour that an autumn night has twice,
 * one of the two is taken.
 * @param {string} zone
 * @param {string} wall as an input of type datetime-local gives it
 * @returns {string | undefined} undefined when it is not a date and a time
 */
export function momentAt(zone, wall) {
  const asUtc = Date.parse(`${wall}Z`);
  if (!Number.isFinite(asUtc)) return undefined;
  return presentIn(zone, asUtc - offsetAt(zone, asUtc - offsetAt(zone, asUtc))).text;
}

/**
 * @param {string} zone
 * @param {number} ms
 */
const offsetAt = (zone, ms) =>
  Date.parse(`${wallClock(zone, ms)}Z`) - Math.floor(ms / 60_000) * 60_000;

/**
 * The wall clock of a moment's text, or nothing when it can't be read.
 * @param {string} zone
 * @param {unknown} text
 */
export function wallOf(zone, text) {
  try {
    return wallClock(zone, parseMoment(String(text)).instant * 1000);
  } catch {
    return "";
  }
}

/** "07:40" of an event. @param {{hour: number, minute: number}} event */
export const timeOf = (event) => `${two(event.hour)}:${two(event.minute)}`;

/** Epoch seconds of an entry's moment. @param {string} text */
export const instantOf = (text) => parseMoment(text).instant;

/**
 * "07:40" of today, else the date too.
 * @param {import("../types.js").State} state
 * @param {number} ms
 */
export const shortTime = (state, ms) =>
  presentIn(state.zone, ms).day === state.today
    ? wallClock(state.zone, ms).slice(11)
    : state.say("screen.value.moment", { at_instant: ms / 1000 });
