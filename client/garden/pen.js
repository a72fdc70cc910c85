// @ts-check
// Writes entries down. What the phone's storage refuses is kept in memory, said, and tried again.
import { clockText, tick } from "../log/clock.js";
import { parseMoment } from "../log/moment.js";
import { appendEntry } from "../store/entries.js";
import { photoOf } from "../store/photos.js";
import { presentIn } from "../zone.js";
import { freshId } from "./edge.js";
import { NotSaved } from "./not_saved.js";

/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").Draft} Draft */
/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").Picture} Picture */
/** @typedef {Omit<Entry, "notebook" | "number" | "clock"> & {clock?: string}} Unnumbered */
/** @typedef {{entry: Unnumbered, shown: Unnumbered[], pictures: Picture[]}} Written */
/** @typedef {{zone: string, versionOf: (kind: string) => number}} Context */

/** The same content later than this is work done again, as the same water in the evening is. */
const SAME_TAP_S = 60;

export class Pen {
  /** @type {Written[]} */
  unsaved = [];

  /** @type {Map<string, Promise<Entry[]>>} what is on its way to the disk, by its entry */
  #appending = new Map();

  /** @param {import("../store/schema.js").Store} store */
  constructor(store) {
    this.store = store;
  }

  /**
   * @param {Draft} draft
   * @param {Session} session
   * @param {Context} context
   * @returns {Promise<Entry[]>} once they are durable: the entry, then its photos'
   */
  async write(draft, session, context) {
    const entry = unnumbered(draft, session, context);
    const { pictures = [], kind, subjects, happened_at } = draft;
    // What was taken with other work is an entry of its own, which names the work's.
    const shown = kind === "photo" ? [] : pictures.map((picture) => unnumbered(
      { kind: "photo", subjects, happened_at, details: photoDetails(picture, entry.id) },
      session, context));
    // What is only true together is written together.
    for (const one of draft.further ?? [])
      shown.push(unnumbered({ ...draft, ...one, id: undefined }, session, context));
    const held = this.unsaved.find((one) => isSameTap(one, { entry, shown, pictures }));
    const written = held ?? { entry, shown, pictures };
    try {
      const all = await this.#append(written);
      this.#letGo(written.entry.id);
      return all;
    } catch (error) {
      if (!held) this.unsaved.push(written);
      throw new NotSaved(error);
    }
  }

  /**
   * Tries what is in memory alone; stops at the first that is refused again. What was written in a
   * garden that this phone has left would get a number of another garden's notebook: it stays.
   * @param {string} garden
   */
  async saveRest(garden) {
    /** @type {Entry[]} */
    const saved = [];
    for (const written of this.unsaved.filter(({ entry }) => entry.garden === garden)) {
      // Tapped again, and so written, while the one before was on its way.
      if (!this.unsaved.some(({ entry }) => entry.id === written.entry.id)) continue;
      try {
        saved.push(...(await this.#append(written)));
      } catch {
        break;
      }
      this.#letGo(written.entry.id);
    }
    return saved;
  }

  /** @param {string} id */
  #letGo(id) {
    this.unsaved = this.unsaved.filter(({ entry }) => entry.id !== id);
  }

  /**
   * What is in memory alone, whole enough for another phone to take in. From then on it keeps the
   * clock that the file gave it: one id has one content.
   */
  unsavedWhole() {
    const clocked = (/** @type {Unnumbered} */ one) => ({ clock: clockText(Date.now(), 0), ...one });
    this.unsaved = this.unsaved.map(({ entry, shown, pictures }) =>
      ({ entry: clocked(entry), shown: shown.map(clocked), pictures }));
    return this.unsaved.flatMap(({ entry, shown }) => [entry, ...shown]);
  }

  /** The photos that are in memory alone. */
  unsavedPhotos() {
    return this.unsaved.flatMap(photosOf);
  }

  /**
   * A tap and what tries the rest may meet at one entry: it is written once, and both hear of it.
   * @param {Written} written
   * @returns {Promise<Entry[]>}
   */
  #append(written) {
    const { id } = written.entry;
    const underWay = this.#appending.get(id);
    if (underWay) return underWay;
    const appended = this.#appendNow(written).finally(() => this.#appending.delete(id));
    this.#appending.set(id, appended);
    return appended;
  }

  /**
   * @param {Written} written
   * @returns {Promise<Entry[]>}
   */
  async #appendNow(written) {
    /** @type {Entry[]} */
    let all = [];
    await appendEntry(this.store, (notebook) => {
      let { number, clock } = notebook;
      all = [written.entry, ...written.shown].map((one) => {
        const own = one.clock ?? tick(clock, Date.now());
        if (own > clock) clock = own;
        number += 1;
        return { ...one, notebook: notebook.id, number, clock: own };
      });
      return { entry: all[0], shown: all.slice(1), clock };
    }, photosOf(written));
    return all;
  }
}

/**
 * Is this a tap on the same button again, because the one before was refused? It must not be written
 * twice when there is room again. A photo is always one of its own.
 * @param {Written} held
 * @param {Written} tapped
 */
const isSameTap = (held, tapped) =>
  !held.pictures.length && !tapped.pictures.length && isSoonAfter(held, tapped)
  && contentOf(held) === contentOf(tapped);

/** @param {Written} held @param {Written} tapped */
function isSoonAfter(held, tapped) {
  const [before, now] = [held, tapped].map(({ entry }) => parseMoment(entry.recorded_at).instant);
  return Math.abs(now - before) <= SAME_TAP_S;
}

/** What a tap says, without its id and moment. @param {Written} written */
function contentOf({ entry }) {
  const { kind, garden, person, subjects, details, answers, mends } = entry;
  const happened = entry.happened_at === entry.recorded_at ? "at once" : entry.happened_at;
  return JSON.stringify([kind, garden, person, subjects, details, answers, mends, happened]);
}

/** @param {Written} written */
const photosOf = ({ entry, pictures }) =>
  pictures.map((picture) => photoOf(entry.garden, picture, "waiting", Date.now()));

/**
 * @param {Draft} draft
 * @param {Session} session
 * @param {Context} context
 * @returns {Unnumbered}
 */
function unnumbered(draft, session, { zone, versionOf }) {
  const { text } = presentIn(zone, Date.now());
  return {
    id: draft.id ?? freshId(),
    garden: session.garden.id,
    kind: draft.kind,
    version: versionOf(draft.kind),
    subjects: cleanSubjects(draft.subjects),
    happened_at: draft.happened_at ?? text,
    recorded_at: text,
    device: session.device.id,
    person: session.person.id,
    details: given(draft.details ?? {}),
    ...given({ answers: draft.answers, mends: draft.mends }),
  };
}

/**
 * What the log says of a photo; the picture itself travels beside it.
 * @param {Picture} picture
 * @param {string} [shows] the entry that it was taken with
 * @returns {Details}
 */
export const photoDetails = ({ image: _image, ...told }, shows) => given({ ...told, shows });

/**
 * Only what is given; an absent value is an absent key on the wire.
 * @template {Details} T
 * @param {T} values
 */
function given(values) {
  const pairs = Object.entries(values).filter(([, value]) => value !== undefined);
  return /** @type {T} */ (Object.fromEntries(pairs));
}

/**
 * @param {Subjects} [subjects]
 * @returns {Subjects}
 */
function cleanSubjects({ bed, planting, plants } = {}) {
  const sorted = plants?.length ? [...new Set(plants)].sort((a, b) => a - b) : undefined;
  return given({ bed: bed || undefined, planting: planting || undefined, plants: sorted });
}
