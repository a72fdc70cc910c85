// @ts-check
// Writes entries down. What the phone's storage refuses is kept in memory, said, and tried again.
import { clockText, tick } from "../log/clock.js";
import { appendEntry } from "../store/entries.js";
import { presentIn } from "../zone.js";
import { freshId } from "./edge.js";
import { NotSaved } from "./not_saved.js";

/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").Draft} Draft */
/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {Omit<Entry, "notebook" | "number" | "clock"> & {clock?: string}} Unnumbered */

export class Pen {
  /** @type {Unnumbered[]} */
  unsaved = [];

  /** @param {import("../store/schema.js").Store} store */
  constructor(store) {
    this.store = store;
  }

  /**
   * @param {Draft} draft
   * @param {Session} session
   * @param {{zone: string, version: number}} context
   * @returns {Promise<Entry>} once it is durable
   */
  async write(draft, session, { zone, version }) {
    const { text } = presentIn(zone, Date.now());
    const entry = {
      id: draft.id ?? freshId(),
      garden: session.garden.id,
      kind: draft.kind,
      version,
      subjects: cleanSubjects(draft.subjects),
      happened_at: draft.happened_at ?? text,
      recorded_at: text,
      device: session.device.id,
      person: session.person.id,
      details: given(draft.details ?? {}),
      ...given({ answers: draft.answers, mends: draft.mends }),
    };
    try {
      return await this.#append(entry);
    } catch (error) {
      this.unsaved.push(entry);
      throw new NotSaved(error);
    }
  }

  /** Tries what is in memory alone; stops at the first that is refused again. */
  async saveRest() {
    /** @type {Entry[]} */
    const saved = [];
    while (this.unsaved.length) {
      try {
        saved.push(await this.#append(this.unsaved[0]));
      } catch {
        break;
      }
      this.unsaved.shift();
    }
    return saved;
  }

  /**
   * What is in memory alone, whole enough for another phone to take in. From then on it keeps the
   * clock that the file gave it: one id has one content.
   */
  unsavedWhole() {
    this.unsaved = this.unsaved.map((entry) => ({ clock: clockText(Date.now(), 0), ...entry }));
    return this.unsaved;
  }

  /** @param {Unnumbered} unnumbered */
  #append(unnumbered) {
    return appendEntry(this.store, (notebook) => {
      const clock = unnumbered.clock ?? tick(notebook.clock, Date.now());
      const number = notebook.number + 1;
      const entry = { ...unnumbered, notebook: notebook.id, number, clock };
      return { entry, clock: clock > notebook.clock ? clock : notebook.clock };
    });
  }
}

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
