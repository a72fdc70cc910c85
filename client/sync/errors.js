// @ts-check
// The one error of talking with the shed; caught by the sync loop and by what joins a garden.

/** Codes that this side gives; all others come from the shed's own table. */
export const UNREACHABLE = "unreachable";
export const TIMED_OUT = "timed_out";
export const SERVER_FAILED = "failed";
export const BAD_CODE = "bad_code";
export const EXAMPLE = "example";
export const NO_PROGRESS = "no_progress";

const PAIRING = new Set(["not_paired", "revoked"]);
// The shed answers and can be read, but its disk takes nothing.
const CANNOT_STORE = new Set(["no_room", "read_only"]);
const BATCH = new Set(["too_large", TIMED_OUT, SERVER_FAILED, "broken_json", "bad_fields"]);

export class SyncError extends Error {
  /**
   * @param {string} code
   * @param {number} [retryAfterMs] when the shed named a time
   */
  constructor(code, retryAfterMs) {
    super(code);
    this.name = "SyncError";
    this.code = code;
    this.retryAfterMs = retryAfterMs;
  }

  /** Trying again is no use before this phone is paired again. */
  get endsPairing() {
    return PAIRING.has(this.code);
  }

  /** What waits must wait on; what is new at the shed can still be had. */
  get isFromDisk() {
    return CANNOT_STORE.has(this.code);
  }

  /** A smaller batch may get through. */
  get mayBeTheBatch() {
    return BATCH.has(this.code);
  }
}
