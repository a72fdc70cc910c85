// @ts-check
// The garden as it stands: the ledger of all entries, and the findings of every subject. A change
// costs what it touches; where it touches the whole garden, the rules run in pieces, so that the
// screen stays with the thumb. Until its turn comes, a subject keeps the findings it had.
import { sortByTime } from "../log/ledger.js";
import { MENDING_KINDS } from "../log/telling.js";
import { findingsInSteps, subjectsTouched } from "../rules/garden.js";
import { foldable, isUntold } from "./soundness.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").FindingState} FindingState */
/** @typedef {import("../types.js").Rulebook} Rulebook */
/** @typedef {{day: number, instant: number}} Present */

/** @type {FindingState[]} */
const BY_WEIGHT = ["overdue", "due", "blocked", "unknown", "flagged", "upcoming", "noted"];
/** A third of a frame: the last rule of a piece runs over, and the screen needs its share. */
const PIECE_MS = 5;
const FIRST_PIECE_MS = 25;
const QUARTER_HOUR_MS = 15 * 60_000;

export class Standing {
  /**
   * Subjects whose turn is still to come, by key.
   * @type {Map<string, import("../rules/garden.js").Subject>}
   */
  #stale = new Map();
  /** @type {{key: string, steps: ReturnType<typeof findingsInSteps>} | undefined} */
  #atWork;
  /** The newest that was told: what waited since an earlier one is reckoned by it too. */
  #present = { day: 0, instant: 0 };

  /** @param {Rulebook} rulebook */
  constructor(rulebook) {
    this.rulebook = rulebook;
    this.rules = new Map(rulebook.rules.map((rule) => [rule.id, rule]));
    /** @type {Map<string, Entry>} */
    this.entries = new Map();
    /** @type {Map<string, Finding[]>} */
    this.findings = new Map();
    /**
     * Subjects on which a rule broke down, as "bed:<id>" or "planting:<id>", with what it said.
     * @type {Map<string, unknown>}
     */
    this.broken = new Map();
    /** When all subjects were last looked at: some may have been since. */
    this.reviewed = this.#present;
    /** @type {Finding[] | undefined} */
    this.inOrder = undefined;
    /** @type {import("../types.js").LoggedEvent[] | undefined} */
    this.inTime = undefined;
    /** @type {Entry[] | undefined} */
    this.notTold = undefined;
    /** @type {Set<string>} */
    this.leftOut = new Set();
    this.ledger = foldable([]).ledger;
  }

  /**
   * Everything from the start: on opening, and when an entry has left the fold. `review` follows,
   * once the log has told in which zone the day is. Whatever an entry holds, the others are folded.
   * @param {Entry[]} entries
   */
  start(entries) {
    this.findings.clear();
    this.broken.clear();
    this.#stale.clear();
    this.#atWork = undefined;
    this.inOrder = undefined;
    this.entries = new Map(entries.map((entry) => [entry.id, entry]));
    this.inTime = undefined;
    this.notTold = undefined;
    ({ ledger: this.ledger, leftOut: this.leftOut } = foldable(entries));
  }

  /**
   * Resolves when all is reckoned that follows.
   * @param {Entry[]} entries
   * @param {Present} present
   */
  async add(entries, present) {
    for (const entry of entries) this.entries.set(entry.id, entry);
    this.inTime = undefined;
    let touched;
    try {
      touched = this.ledger.add(entries);
    } catch (error) {
      console.error(error);
      this.start([...this.entries.values()]);
      return this.review(present);
    }
    const known = new Set(this.notTold?.map((entry) => entry.id));
    const fresh = entries.filter((entry) => !known.has(entry.id));
    this.notTold = this.notTold?.concat(this.#untoldOf(fresh));
    return this.#evaluate(touched, present);
  }

  /**
   * All rules again, because the day or the hour is another; after a start in longer pieces, since
   * there are no findings yet that could stand meanwhile: what withholds work is not known until then,
   * and `look` says so.
   * @param {Present} present
   */
  async review(present) {
    this.reviewed = present;
    return this.#evaluate(["garden"], present, this.findings.size ? PIECE_MS : FIRST_PIECE_MS);
  }

  /**
   * @param {Iterable<string>} touched
   * @param {Present} present
   */
  async #evaluate(touched, present, pieceMs = PIECE_MS) {
    this.#present = present;
    /** @type {[string, import("../rules/garden.js").Subject][]} */
    const fresh = subjectsTouched(this.ledger, touched).map((one) => [one.join(":"), one]);
    // What an entry touches goes before what has waited: nobody should be told of before a spraying.
    this.#stale = new Map([...fresh, ...this.#stale]);
    let until = performance.now() + pieceMs;
    while (this.#goOn()) {
      if (performance.now() <= until) continue;
      await new Promise((go) => setTimeout(go));
      until = performance.now() + pieceMs;
    }
  }

  /** A step further with one subject: a rule or less; false when nothing is left to do. */
  #goOn() {
    const { ledger, rulebook } = this;
    const { day, instant } = this.#present;
    if (!this.#atWork) {
      const [next] = this.#stale;
      if (!next) return false;
      const [key, subject] = next;
      this.#stale.delete(key);
      this.#atWork = { key, steps: findingsInSteps(ledger, subject, rulebook, day, instant) };
    }
    const { key, steps } = this.#atWork;
    try {
      const step = steps.next();
      if (step.done) this.#take(key, step.value);
    } catch (error) {
      // One subject less; what withholds work there is not known, and `look` says so.
      console.error(key, error);
      this.#take(key, undefined, error);
    }
    return true;
  }

  /**
   * What has come of the subject at work.
   * @param {string} key
   * @param {Finding[] | undefined} findings
   * @param {unknown} [error]
   */
  #take(key, findings, error) {
    this.#atWork = undefined;
    this.inOrder = undefined;
    this.broken.delete(key);
    this.findings.delete(key);
    if (findings) this.findings.set(key, findings);
    else this.broken.set(key, error);
  }

  /**
   * What an earlier reckoning of this very log came to; it stands until each subject's turn.
   * @param {[string, Finding[]][]} told
   * @param {Present} reviewed
   */
  recall(told, reviewed) {
    this.findings = new Map(told);
    this.reviewed = reviewed;
    this.inOrder = undefined;
  }

  /** Has every subject had its turn, and told something? */
  get isWhole() {
    return !this.#stale.size && !this.#atWork && !this.broken.size;
  }

  /** Entries that the ledger could not tell, or does not understand: kept, and in no reckoning. */
  untold() {
    this.notTold ??= this.#untoldOf([...this.entries.values()]);
    return this.notTold;
  }

  /** @param {Entry[]} entries */
  #untoldOf(entries) {
    return entries.filter((entry) =>
      this.leftOut.has(entry.id) || isUntold(this.ledger, entry, this.#rootOf(entry)));
  }

  /** @param {Entry} entry */
  #rootOf({ kind, details }) {
    const named = MENDING_KINDS.includes(kind) ? details?.entry : undefined;
    return typeof named === "string" ? this.entries.get(named) : undefined;
  }

  /**
   * What corrects or takes back a root (or any), the last word first.
   * @param {string} [rootId]
   */
  mendings(rootId) {
    const found = [...this.entries.values()].filter(({ kind, details }) =>
      MENDING_KINDS.includes(kind) && (rootId ?? details?.entry) === details?.entry);
    return found.sort((a, b) => (isLater(a, b) ? -1 : 1));
  }

  /**
   * The entry that tells an event as it was told last: its last correction, else itself.
   * @param {Entry} root
   */
  latest(root) {
    return this.mendings(root.id).find((entry) => entry.kind === "correct") ?? root;
  }

  /** Every event of the garden, by time. */
  events() {
    if (this.inTime === undefined) {
      this.inTime = [...this.entries.keys()].flatMap((id) => this.ledger.event(id) ?? []);
      this.inTime = sortByTime(this.inTime);
    }
    return this.inTime;
  }

  /** All findings, the heaviest first. */
  sorted() {
    this.inOrder ??= [...this.findings.values()].flat().sort((a, b) => this.#compare(a, b));
    return this.inOrder;
  }

  /**
   * The next instant at which something begins or ends by itself.
   * @param {number} now
   */
  nextTurn(now) {
    let next = Infinity;
    for (const { from, until } of this.sorted()) {
      for (const turn of [from, until]) {
        if (turn !== null && turn > now && turn < next) next = turn;
      }
    }
    return next;
  }

  /**
   * When the rules are to run again, in milliseconds: when something begins or ends, and at every
   * quarter of an hour, since midnight is one in every zone of the world.
   * @param {number} nowMs
   */
  nextReview(nowMs) {
    const quarter = (Math.floor(nowMs / QUARTER_HOUR_MS) + 1) * QUARTER_HOUR_MS;
    return Math.min(this.nextTurn(Math.floor(nowMs / 1000)) * 1000, quarter);
  }

  /** @param {Finding} finding */
  #urgencyOf({ rule }) {
    return this.rules.get(rule)?.urgency ?? 0;
  }

  /**
   * @param {Finding} a
   * @param {Finding} b
   */
  #compare(a, b) {
    const weight = BY_WEIGHT.indexOf(a.state) - BY_WEIGHT.indexOf(b.state);
    const urgency = this.#urgencyOf(b) - this.#urgencyOf(a);
    const due = (a.closes ?? a.due ?? Infinity) - (b.closes ?? b.due ?? Infinity);
    return weight || urgency || due || (a.key < b.key ? -1 : 1);
  }
}

/**
 * @param {Entry} a
 * @param {Entry} b
 */
function isLater(a, b) {
  const [one, other] = [a.order ?? a.clock, b.order ?? b.clock];
  return one > other || (one === other && a.id > b.id);
}
