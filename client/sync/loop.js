// @ts-check
// When to talk with the shed: on opening, when the page is seen or the network comes back, after a
// tap, by hand, and by a timer that grows patient while the shed stays out of reach.
import { SyncError } from "./errors.js";

/** @typedef {import("../types.js").SyncState} SyncState */

const AFTER_TAP_MS = 400;
const WHEN_WELL_MS = 60_000;
const FIRST_RETRY_MS = 5_000;
// A row of taps offline counts as so many failed tries, so the longest wait must be short: who comes
// back to the shed with the page open does not want to ask by hand.
const LAST_RETRY_MS = 60_000;
const LOCK = "shedbook-sync";

/** @type {Record<string, import("../types.js").SyncPhase>} */
const PHASES = {
  unreachable: "unreachable", timed_out: "unreachable",
  busy: "busy", too_many: "busy",
  no_room: "not_storing", read_only: "not_storing",
  not_paired: "not_paired", revoked: "revoked",
};

/** @param {unknown} error */
function codeOf(error) {
  if (error instanceof SyncError) return error.code;
  const isFull = error instanceof DOMException && error.name === "QuotaExceededError";
  return isFull ? "device_full" : "unexpected";
}

export class SyncLoop {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  /** @type {Promise<void> | undefined} */
  #running;
  #isAskedAgain = false;
  #failures = 0;
  #isStopped = false;

  /**
   * @param {() => Promise<void>} round
   * @param {(state: SyncState, error?: unknown) => Promise<void>} onState
   */
  constructor(round, onState) {
    this.round = round;
    this.onState = onState;
  }

  /** Listens to what makes a try worthwhile. `navigator.onLine` is no such thing: it often lies. */
  start() {
    addEventListener("online", () => void this.now());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") void this.now();
    });
    return this.now();
  }

  /** Has somebody asked for another round while this one runs? */
  get isAskedAgain() {
    return this.#isAskedAgain;
  }

  /** Soon, so that a row of taps goes over in one request. */
  soon() {
    if (this.#isStopped) return;
    if (this.#running) this.#isAskedAgain = true;
    else this.#wait(AFTER_TAP_MS);
  }

  /** Pairing ended: nothing to try until `resume`. */
  stop() {
    this.#isStopped = true;
    clearTimeout(this.#timer);
  }

  /** @returns {Promise<void>} */
  resume() {
    this.#isStopped = false;
    this.#failures = 0;
    return this.now();
  }

  /** Tries at once; while a round is running, one more follows it. */
  async now() {
    if (this.#isStopped) return;
    if (this.#running) {
      this.#isAskedAgain = true;
      return this.#running;
    }
    clearTimeout(this.#timer);
    this.#running = this.#run();
    await this.#running;
  }

  async #run() {
    await this.onState({ phase: "running", error: null, nextTryMs: null });
    try {
      await this.#withLock();
      this.#failures = 0;
      await this.#settle("idle", null, WHEN_WELL_MS);
    } catch (error) {
      this.#failures += 1;
      const code = codeOf(error);
      const asked = error instanceof SyncError ? error.retryAfterMs : undefined;
      const wait = Math.min(LAST_RETRY_MS, FIRST_RETRY_MS * 2 ** (this.#failures - 1));
      if (error instanceof SyncError && error.endsPairing) this.stop();
      await this.#settle(PHASES[code] ?? "failed", code, Math.max(wait, asked ?? 0), error);
    }
  }

  /**
   * @param {import("../types.js").SyncPhase} phase
   * @param {string | null} code
   * @param {number} wait
   * @param {unknown} [error]
   */
  async #settle(phase, code, wait, error) {
    const nextTryMs = this.#isStopped ? null : Date.now() + wait;
    try {
      await this.onState({ phase, error: code, nextTryMs }, error);
    } finally {
      const isAgain = code === null && this.#isAskedAgain;
      this.#running = undefined;
      this.#isAskedAgain = false;
      if (!this.#isStopped) this.#wait(isAgain ? AFTER_TAP_MS : wait);
    }
  }

  /** @param {number} delay */
  #wait(delay) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      // A hidden page leaves the timer's work to the one that is seen.
      if (document.visibilityState === "visible" || delay === AFTER_TAP_MS) void this.now();
    }, delay);
  }

  /** One tab at a time; without locks (plain http on the LAN) the shed's own locks suffice. */
  async #withLock() {
    if (navigator.locks) await navigator.locks.request(LOCK, this.round);
    else await this.round();
  }
}
