// @ts-check
/**
 * The garden's state, kept up to date entry by entry: the twin of server/shedbook/log/ledger.py.
 * Any order, batching or duplication of the same entries gives the same ledger, and an entry costs
 * only what it touches: its root is told again, its bed or planting is folded again.
 */

import { counted, foldBed, foldFields, foldPlanting, GARDEN_FIELDS, isSame } from "./fold.js";
import { PlaceIndex, putUnder, Touched } from "./index.js";
import { Tellings } from "./tellings.js";

export { livePlants } from "./fold.js";

/** @import { Bed, Entry, LoggedEvent, Planting, Settings } from "../types.js" */
/** @import { Telling } from "./telling.js" */
/** @import { Change } from "./tellings.js" */
/** @import { Index } from "./index.js" */

/**
 * All entries of one garden and what they add up to.
 *
 * `add` answers which keys it touched: "garden", "bed:<id>", "planting:<id>". A bed's key stands
 * for more than the bed: every planting in it sees the bed's fields, events and residents, and one
 * that has left it still sees what was sprayed there. Whoever
 * keeps results per subject must recompute what `reachedBy(touched)` lists, no less.
 */
export class Ledger {
  #tellings = new Tellings();
  #index = new PlaceIndex();
  /** @type {Settings} */
  #settings = {};
  /** @type {Map<string, Bed>} */
  #beds = new Map();
  /** @type {Map<string, Planting>} */
  #plantings = new Map();
  /**
   * By bed, the plantings that ever stood in it, also those that have left.
   * @type {Index}
   */
  #everIn = new Map();
  /** @type {Index} */
  #namedBeside = new Map();
  /** @type {Map<string, LoggedEvent[]>} */
  #sorted = new Map();

  /**
   * Take entries in, known ones again without effect; the keys of what they touched.
   * @param {Iterable<Entry>} entries
   */
  add(entries) {
    return this.#foldAgain(this.#tellings.add(entries));
  }

  /**
   * Leave entries out that were set aside or refused; the keys of what that touched.
   * @param {Iterable<string>} entryIds
   */
  forget(entryIds) {
    return this.#foldAgain(this.#tellings.forget(entryIds));
  }

  /**
   * Every "bed:<id>" and "planting:<id>" whose view may have changed, sorted.
   * @param {Iterable<string>} touched
   */
  reachedBy(touched) {
    /** @type {Set<string>} */
    const reached = new Set();
    for (const key of touched) {
      if (key === "garden") {
        for (const bedId of this.#beds.keys()) reached.add(`bed:${bedId}`);
        for (const plantingId of this.#plantings.keys()) reached.add(`planting:${plantingId}`);
        continue;
      }
      reached.add(key);
      if (key.startsWith("bed:")) {
        const plantings = this.#everIn.get(key.slice("bed:".length)) ?? [];
        for (const plantingId of plantings) reached.add(`planting:${plantingId}`);
      }
    }
    return [...reached].sort();
  }

  /** The event of a root as it is told last; null when there is none or it was voided.
   * @param {string} rootId */
  event(rootId) {
    return this.#tellings.byRoot.get(rootId)?.event ?? null;
  }

  /** A bed, hidden or not.
   * @param {string} bedId */
  bed(bedId) {
    return this.#beds.get(bedId) ?? null;
  }

  /** A planting, hidden or not.
   * @param {string} plantingId */
  planting(plantingId) {
    return this.#plantings.get(plantingId) ?? null;
  }

  /** All beds, hidden ones too, by id. */
  beds() {
    return byId(this.#beds);
  }

  /** All plantings, hidden ones too, by id. */
  plantings() {
    return byId(this.#plantings);
  }

  /** The garden's name and settings. */
  settings() {
    return this.#settings;
  }

  /** The plantings whose bed is this one, by id, without hidden ones.
   * @param {string} bedId @returns {Planting[]} */
  residents(bedId) {
    return this.everIn(bedId).filter((planting) => planting.bed === bedId && !planting.hidden);
  }

  /** The plantings that stand or stood in this bed, by id, hidden ones too.
   * @param {string} bedId @returns {Planting[]} */
  everIn(bedId) {
    const ids = [...(this.#everIn.get(bedId) ?? [])].sort();
    return ids.flatMap((one) => this.#plantings.get(one) ?? []);
  }

  /** The ids of beds that this bed names as beside it, or that name it.
   * @param {string} bedId @returns {string[]} */
  bedsBeside(bedId) {
    const own = this.#beds.get(bedId)?.beside ?? [];
    const all = new Set([...own, ...(this.#namedBeside.get(bedId) ?? [])]);
    all.delete(bedId);
    return [...all].sort();
  }

  /** Events that name this bed, by time.
   * @param {string} bedId */
  eventsInBed(bedId) {
    return this.#byTime(`bed:${bedId}`, this.#index.inBed.get(bedId) ?? []);
  }

  /** Events that name this planting, by time.
   * @param {string} plantingId */
  eventsOfPlanting(plantingId) {
    return this.#byTime(`planting:${plantingId}`, this.#index.ofPlanting.get(plantingId) ?? []);
  }

  /** Treatments that name this planting and no bed, by time.
   * @param {string} plantingId */
  bedlessTreats(plantingId) {
    return sortByTime(this.#events(this.#index.bedlessTreats.get(plantingId) ?? []));
  }

  /** Weather that holds for the whole garden, by time. */
  weather() {
    return this.#byTime("garden", this.#index.weather);
  }

  /** Everything, as JSON in a fixed order. */
  snapshot() {
    const events = [];
    for (const { event } of byId(this.#tellings.byRoot)) if (event !== null) events.push(event);
    return {
      settings: this.#settings,
      beds: this.beds(),
      plantings: this.plantings(),
      events,
      unread: [...this.#tellings.unread].sort(),
    };
  }

  /** @param {Change[]} changes */
  #foldAgain(changes) {
    const touched = new Touched();
    for (const { old, now } of changes) {
      if (old !== null) this.#index.put(old, false, touched);
      if (now !== null) this.#index.put(now, true, touched);
    }
    if (touched.keys.has("garden")) {
      this.#settings = foldFields(counted(this.#told(this.#index.garden)), GARDEN_FIELDS);
    }
    for (const bedId of touched.beds) this.#foldBed(bedId, touched.keys);
    for (const plantingId of touched.plantings) this.#foldPlanting(plantingId, touched.keys);
    for (const plantingId of touched.treated) {
      const beds = this.#plantings.get(plantingId)?.beds ?? [];
      for (const bedId of beds) touched.keys.add(`bed:${bedId}`);
    }
    for (const key of touched.keys) this.#sorted.delete(key);
    return touched.keys;
  }

  /** @param {string} bedId @param {Set<string>} touched */
  #foldBed(bedId, touched) {
    touched.add(`bed:${bedId}`);
    this.#touchBeside(bedId, touched);
    for (const other of this.#beds.get(bedId)?.beside ?? []) {
      putUnder(this.#namedBeside, other, bedId, false);
    }
    this.#beds.delete(bedId);
    const shape = this.#told(this.#index.beds.get(bedId) ?? []);
    if (shape.length === 0) return;
    const bed = foldBed(bedId, shape);
    this.#beds.set(bedId, bed);
    for (const other of bed.beside ?? []) putUnder(this.#namedBeside, other, bedId, true);
    this.#touchBeside(bedId, touched);
  }

  /** @param {string} plantingId @param {Set<string>} touched */
  #foldPlanting(plantingId, touched) {
    const old = this.#plantings.get(plantingId) ?? null;
    this.#plantings.delete(plantingId);
    const shape = this.#told(this.#index.plantings.get(plantingId) ?? []);
    /** @type {Planting | null} */
    let planting = null;
    if (shape.some((telling) => telling.kind === "planting")) {
      const events = this.#events(this.#index.ofPlanting.get(plantingId) ?? []);
      planting = foldPlanting(plantingId, shape, events);
      this.#plantings.set(plantingId, planting);
    }
    touched.add(`planting:${plantingId}`);
    if (isSame(old, planting)) return;
    for (const one of [old, planting]) {
      if (one?.bed === undefined) continue;
      this.#touchBeside(one.bed, touched);
      for (const bedId of one.beds ?? []) {
        touched.add(`bed:${bedId}`);
        putUnder(this.#everIn, bedId, plantingId, one === planting);
      }
    }
  }

  /** Beds beside this one see its plantings as neighbours.
   * @param {string} bedId @param {Set<string>} touched */
  #touchBeside(bedId, touched) {
    for (const other of this.bedsBeside(bedId)) touched.add(`bed:${other}`);
  }

  /** @param {Iterable<string>} rootIds @returns {Telling[]} */
  #told(rootIds) {
    const told = [];
    for (const rootId of rootIds) {
      const telling = this.#tellings.byRoot.get(rootId);
      if (telling !== undefined) told.push(telling);
    }
    return told;
  }

  /** @param {Iterable<string>} rootIds @returns {LoggedEvent[]} */
  #events(rootIds) {
    const events = [];
    for (const { event } of this.#told(rootIds)) if (event !== null) events.push(event);
    return events;
  }

  /** @param {string} key @param {Iterable<string>} eventIds @returns {LoggedEvent[]} */
  #byTime(key, eventIds) {
    const known = this.#sorted.get(key);
    if (known !== undefined) return known;
    const events = sortByTime(this.#events(eventIds));
    this.#sorted.set(key, events);
    return events;
  }
}

/**
 * Events by (instant, order, id).
 * @param {LoggedEvent[]} events
 */
export function sortByTime(events) {
  return [...events].sort((a, b) => {
    if (a.instant !== b.instant) return a.instant - b.instant;
    if (a.order !== b.order) return a.order < b.order ? -1 : 1;
    return a.id < b.id ? -1 : 1;
  });
}

/** @template T @param {Map<string, T>} map @returns {T[]} */
function byId(map) {
  return [...map].sort((a, b) => (a[0] < b[0] ? -1 : 1)).map(([, value]) => value);
}
