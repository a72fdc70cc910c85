// @ts-check
/** Which tellings concern which bed or planting: the twin of server/shedbook/log/index.py. */

import { GARDEN_KINDS, SHAPING_KINDS, GARDEN_WIDE_KINDS } from "./telling.js";

/** @import { LoggedEvent } from "../types.js" */
/** @import { Telling } from "./telling.js" */
/** @typedef {Map<string, Set<string>>} Index */

/** The keys that a change touched, and the beds and plantings to fold again. */
export class Touched {
  /** @type {Set<string>} */
  keys = new Set();
  /** @type {Set<string>} */
  beds = new Set();
  /** @type {Set<string>} */
  plantings = new Set();
  /**
   * Plantings with a treatment that names no bed, which every bed they stood in sees.
   * @type {Set<string>}
   */
  treated = new Set();
}

/** Ids of tellings: those of places by what they shape, events by where they happened. */
export class PlaceIndex {
  /** @type {Set<string>} */
  garden = new Set();
  /** @type {Index} */
  beds = new Map();
  /** @type {Index} */
  plantings = new Map();
  /** @type {Index} */
  inBed = new Map();
  /** @type {Index} */
  ofPlanting = new Map();
  /** @type {Index} */
  bedlessTreats = new Map();
  /** @type {Set<string>} */
  weather = new Set();

  /**
   * Put a telling in or take it out, and note what must be folded again.
   * @param {Telling} telling @param {boolean} isIn @param {Touched} touched
   */
  put({ kind, id, subjects, event }, isIn, touched) {
    if (GARDEN_KINDS.includes(kind)) {
      touched.keys.add("garden");
      put(this.garden, id, isIn);
    } else if (kind === "bed" && subjects.bed !== undefined) {
      touched.beds.add(subjects.bed);
      putUnder(this.beds, subjects.bed, id, isIn);
    } else if ((kind === "planting" || kind === "plant") && subjects.planting !== undefined) {
      touched.plantings.add(subjects.planting);
      putUnder(this.plantings, subjects.planting, id, isIn);
    } else if (event !== null) {
      this.#putEvent(event, isIn, touched);
      if (SHAPING_KINDS.includes(kind) && event.planting !== undefined) {
        touched.plantings.add(event.planting);
      }
    }
  }

  /** @param {LoggedEvent} event @param {boolean} isIn @param {Touched} touched */
  #putEvent({ id, kind, bed, planting }, isIn, touched) {
    if (bed !== undefined) {
      touched.keys.add(`bed:${bed}`);
      putUnder(this.inBed, bed, id, isIn);
    }
    if (planting !== undefined) {
      touched.keys.add(`planting:${planting}`);
      putUnder(this.ofPlanting, planting, id, isIn);
      if (kind === "treat" && bed === undefined) {
        touched.treated.add(planting);
        putUnder(this.bedlessTreats, planting, id, isIn);
      }
    }
    if (GARDEN_WIDE_KINDS.includes(kind) && bed === undefined && planting === undefined) {
      touched.keys.add("garden");
      put(this.weather, id, isIn);
    }
  }
}

/**
 * Put one id into a set or take it out.
 * @param {Set<string>} ids @param {string} one @param {boolean} isIn
 */
function put(ids, one, isIn) {
  if (isIn) ids.add(one);
  else ids.delete(one);
}

/**
 * Put one id under a key of an index or take it out.
 * @param {Index} index @param {string} key @param {string} one @param {boolean} isIn
 */
export function putUnder(index, key, one, isIn) {
  const ids = index.get(key) ?? new Set();
  put(ids, one, isIn);
  index.set(key, ids);
}
