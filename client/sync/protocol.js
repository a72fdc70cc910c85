// @ts-check
// One request to the shed, one answer or one SyncError.
import { IS_EXAMPLE } from "../store/which.js";
import { BAD_CODE, EXAMPLE, SERVER_FAILED, SyncError, TIMED_OUT, UNREACHABLE } from "./errors.js";
import { entriesOf } from "./pages.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Device} Device */
/** @typedef {import("../types.js").Person} Person */
/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("./pages.js").Page} Page */

/**
 * @typedef {object} SyncRequest
 * @property {string} notebook
 * @property {Entry[]} entries
 * @property {number} cursor
 * @property {string | null} epoch
 * @property {number} waiting
 * @property {number} page
 * @property {number[]} [given_up] numbers of the notebook under which nothing will come any more
 */

/**
 * @typedef {object} Answer
 * @property {string} id
 * @property {number} number
 * @property {"accepted" | "known" | "set_aside" | "refused" | "forked"} result
 * @property {number} [seq]
 * @property {string} [order]
 * @property {Record<string, string[]>} [remarks]
 * @property {Record<string, string[]>} [problems]
 * @property {string} [hint]
 */

/**
 * @typedef {object} NotebookState
 * @property {string} id
 * @property {number} unbroken
 * @property {number[]} missing
 * @property {number} [highest] the highest number that has arrived; an older shed does not say
 */

/**
 * @typedef {object} SyncResponse
 * @property {Answer[]} answers
 * @property {NotebookState} notebook
 * @property {Entry[]} entries
 * @property {number} cursor
 * @property {number} head
 * @property {string} epoch
 * @property {number} server_time_ms
 * @property {Device[]} devices
 * @property {Person[]} people
 * @property {string} assets
 * @property {{device: string, person: string, role: string}} you
 */

const PATIENCE_MS = 30_000;
/** Where the shed gives the example; the one thing that the example asks of it. */
export const EXAMPLE_PATH = "/api/example";

/**
 * @param {string} garden
 * @param {SyncRequest} request
 * @returns {Promise<SyncResponse>}
 */
export async function exchange(garden, request) {
  const asked = { ...request, form: "columns" };
  const told = await send("POST", `/api/gardens/${garden}/sync`, asked);
  // An older shed knows rows alone, and every shed tells an empty page so.
  const { columns, ...answer } = /** @type {SyncResponse & {columns?: Page}} */ (told);
  return columns ? { ...answer, entries: entriesOf(columns) } : answer;
}

/**
 * @param {string} code
 * @param {string} deviceName
 * @returns {Promise<Session>}
 */
export async function spendCode(code, deviceName) {
  try {
    const answer = await send("POST", "/api/session", { code, device_name: deviceName });
    return /** @type {Session} */ (answer);
  } catch (error) {
    const isRefused = error instanceof SyncError && error.code === "bad_fields";
    throw isRefused ? new SyncError(BAD_CODE) : error;
  }
}

/**
 * Sends one request; answers the JSON of a good one, throws a SyncError for any other.
 * @param {"GET" | "POST" | "DELETE"} method
 * @param {string} path
 * @param {unknown} [body]
 * @returns {Promise<unknown>}
 */
export async function send(method, path, body) {
  if (IS_EXAMPLE && !path.startsWith(EXAMPLE_PATH)) throw new SyncError(EXAMPLE);
  /** @type {Response} */
  let response;
  /** @type {string} */
  let text;
  try {
    response = await fetch(path, {
      method,
      headers: { "Content-Type": "application/json", "X-Shedbook": "1" },
      body: body === undefined ? undefined : JSON.stringify(body),
      credentials: "same-origin",
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    text = await response.text();
  } catch (error) {
    const isLate = error instanceof DOMException && error.name === "TimeoutError";
    throw new SyncError(isLate ? TIMED_OUT : UNREACHABLE);
  }
  const answer = parsed(text);
  if (response.ok && answer !== undefined) return answer;
  if (response.status === 204) return null;
  throw errorOf(response, answer);
}

/** @param {string} text */
function parsed(text) {
  try {
    return /** @type {unknown} */ (JSON.parse(text));
  } catch {
    return undefined;
  }
}

/**
 * A proxy's error page has no code of the shed's: its status decides, and a stranger's page (a
 * captive portal's sign-in) counts as the shed out of reach.
 * @param {Response} response
 * @param {unknown} answer
 */
function errorOf(response, answer) {
  const retryAfter = Number(response.headers.get("Retry-After"));
  const after = retryAfter > 0 ? retryAfter * 1000 : undefined;
  const told = /** @type {{error?: {code?: unknown}} | null | undefined} */ (answer)?.error?.code;
  const own = new SyncError(typeof told === "string" ? told : UNREACHABLE, after);
  if (own.isFromDisk) return own;
  if (response.status === 413) return new SyncError("too_large");
  if (response.status === 503 || response.status === 429) {
    return new SyncError(response.status === 503 ? "busy" : "too_many", after);
  }
  if (response.status === 504) return new SyncError(TIMED_OUT);
  if (response.status >= 500) return new SyncError(SERVER_FAILED);
  return own;
}
