// @ts-check
// Photos go to the shed one by one, after the entries that name them; one that is cut off is sent
// again from its start. Each is known by its digest, so the shed has it once however often it comes.
import { readMeta, writeMeta } from "../store/meta.js";
import { dropPhotos, findPhoto, markPhotos, photoOf, readPhotoRows } from "../store/photos.js";
import { digestOf } from "../store/digest.js";
import { SERVER_FAILED, SyncError, TIMED_OUT, UNREACHABLE } from "./errors.js";

/** @typedef {import("../store/photos.js").Photo} Photo */
/** @typedef {import("../store/schema.js").Store} Store */
/**
 * @typedef {object} PhotoPorts what the exchange of photos needs from outside
 * @property {Store} store
 * @property {string} garden
 * @property {() => boolean} isInterrupted entries wait, and go first
 * @property {() => Promise<void>} onChanged what waits is another number
 */

const PATIENCE_MS = 120_000;
/** How many the shed is asked for at once. */
export const MOST_ASKED = 500;
/** Photos that the shed has and that stay here to be looked at. */
export const MOST_KEPT = 200;
/** What the shed says of the photo itself, or of its sender: the same again would be no use. */
const REFUSALS = new Set([
  "photo_mismatch", "photo_unreadable", "not_a_photo", "too_large", "photos_full", "not_permitted",
]);
/** A shed of before photos: they wait until it is a newer one. */
const UNKNOWN_ADDRESS = new Set(["not_found", "not_allowed"]);

/** @param {unknown} error */
const isOfOlderShed = (error) => error instanceof SyncError && UNKNOWN_ADDRESS.has(error.code);

/**
 * Hands over what waits, sees to it that a shed put back from a copy gets its photos again, and
 * keeps no more of the others than one looks at.
 * @param {PhotoPorts} ports
 */
export async function exchangePhotos(ports) {
  try {
    await askAfterRestore(ports);
    await sendWaiting(ports);
    await dropOldest(ports);
  } catch (error) {
    if (!isOfOlderShed(error)) throw error;
  }
}

/**
 * The shed's log is another one than when it was last asked: it may have lost photos.
 * @param {PhotoPorts} ports
 */
async function askAfterRestore({ store, garden }) {
  const [position, asked] = await Promise.all([
    readMeta(store, "cursor"), readMeta(store, "photosAt"),
  ]);
  if (position?.garden !== garden) return;
  const { epoch } = position;
  if (asked?.garden === garden && asked.epoch === epoch) return;
  if (await maySend(store)) {
    await markPhotos(store, await lostOf(garden, await sentRows(store, garden)), "waiting");
  }
  await writeMeta(store, "photosAt", { garden, epoch });
}

/**
 * @param {Store} store
 * @param {string} garden
 */
async function sentRows(store, garden) {
  const rows = await readPhotoRows(store);
  return rows.filter((row) => row.garden === garden && row.state === "sent");
}

/** Who may only read can't give a photo back to the shed. @param {Store} store */
const maySend = async (store) => (await readMeta(store, "heard"))?.role !== "reader";

/**
 * The ids of those photos that the shed has lost.
 * @param {string} garden
 * @param {{id: string, sha256: string}[]} rows
 */
async function lostOf(garden, rows) {
  /** @type {string[]} */
  const ids = [];
  for (let at = 0; at < rows.length; at += MOST_ASKED) {
    const some = rows.slice(at, at + MOST_ASKED);
    const body = JSON.stringify({ sha256: some.map((row) => row.sha256) });
    const told = await ask("POST", `${addressOf(garden)}/missing`, body, "application/json");
    const missing = /** @type {string[] | undefined} */ (told?.missing);
    if (!missing) throw new SyncError(UNREACHABLE);
    ids.push(...some.filter((row) => missing.includes(row.sha256)).map((row) => row.id));
  }
  return ids;
}

/**
 * A photo at which the shed fails keeps no other from going over; that it failed is told at the end.
 * @param {PhotoPorts} ports
 */
async function sendWaiting({ store, garden, isInterrupted, onChanged }) {
  /** @type {unknown} */
  let failure;
  for (const { id, sha256, state, garden: whose } of await readPhotoRows(store)) {
    if (state !== "waiting" || whose !== garden) continue;
    if (isInterrupted()) return;
    const photo = await findPhoto(store, garden, sha256);
    if (!photo) continue;
    try {
      await sendPhoto(photo);
      await markPhotos(store, [id], "sent");
    } catch (error) {
      if (!(error instanceof SyncError) || isOfOlderShed(error)) throw error;
      if (error.code === SERVER_FAILED) failure = error;
      else await markRefused(store, id, error);
    }
    await onChanged();
  }
  if (failure) throw failure;
}

/**
 * Any other trouble than a refusal is the shed's or the way's, and holds for the next photo too.
 * @param {Store} store
 * @param {string} id
 * @param {SyncError & {said?: unknown}} error
 */
async function markRefused(store, id, error) {
  if (!REFUSALS.has(error.code)) throw error;
  const { code, said } = error;
  await markPhotos(store, [id], "refused", { code, ...(typeof said === "string" && { said }) });
}

/** @param {Photo} photo */
async function sendPhoto({ row, image }) {
  const address = `${addressOf(row.garden)}/${row.sha256}`;
  const told = await ask("PUT", address, image, row.type);
  // A stranger's page (a captive portal's sign-in) is no receipt.
  if (told?.sha256 !== row.sha256) throw new SyncError(UNREACHABLE);
}

/**
 * Of photos that the shed has, only the newest stay; what it turns out not to have is sent.
 * @param {PhotoPorts} ports
 */
async function dropOldest({ store, garden, onChanged }) {
  const rows = await sentRows(store, garden);
  const oldest = rows.slice(0, Math.max(0, rows.length - MOST_KEPT));
  if (!oldest.length) return;
  const lost = new Set(await lostOf(garden, oldest));
  if (await maySend(store)) await markPhotos(store, [...lost], "waiting");
  await dropPhotos(store, oldest.map((row) => row.id).filter((id) => !lost.has(id)));
  if (lost.size) await onChanged();
}

/**
 * A photo of the shed's; undefined when the shed has not got it either.
 * @param {string} garden
 * @param {string} sha256
 * @param {number} nowMs
 * @returns {Promise<Photo | undefined>}
 */
export async function fetchPhoto(garden, sha256, nowMs) {
  let answer;
  try {
    answer = await request("GET", `${addressOf(garden)}/${sha256}`);
  } catch (error) {
    if (isOfOlderShed(error)) return undefined;
    throw error;
  }
  const { response, body } = answer;
  // Whatever stands between phone and shed may answer in its place.
  if ((await digestOf(body)) !== sha256) throw new SyncError(UNREACHABLE);
  const type = response.headers.get("Content-Type") ?? "";
  return photoOf(garden, { sha256, type, image: body }, "sent", nowMs);
}

/** @param {string} garden */
const addressOf = (garden) => `/api/gardens/${garden}/photos`;

/**
 * @param {"PUT" | "POST"} method
 * @param {string} path
 * @param {ArrayBuffer | string} sent
 * @param {string} type
 * @returns {Promise<any>} the JSON of a good answer, undefined when it is none
 */
async function ask(method, path, sent, type) {
  const { body } = await request(method, path, sent, type);
  return parsed(body);
}

/**
 * One request with a body of any kind, one good answer or one SyncError.
 * @param {string} method
 * @param {string} path
 * @param {ArrayBuffer | string} [sent]
 * @param {string} [type]
 */
async function request(method, path, sent, type) {
  /** @type {Response} */
  let response;
  /** @type {ArrayBuffer} */
  let body;
  try {
    response = await fetch(path, {
      method,
      headers: { "X-Shedbook": "1", ...(type && { "Content-Type": type }) },
      body: sent,
      credentials: "same-origin",
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    body = await response.arrayBuffer();
  } catch (error) {
    const isLate = error instanceof DOMException && error.name === "TimeoutError";
    throw new SyncError(isLate ? TIMED_OUT : UNREACHABLE);
  }
  if (!response.ok) throw errorOf(response, parsed(body)?.error);
  return { response, body };
}

/** @param {ArrayBuffer} body @returns {any} undefined when it is no JSON */
function parsed(body) {
  try {
    return JSON.parse(new TextDecoder().decode(body));
  } catch {
    return undefined;
  }
}

/**
 * The shed's own code; without one, a failing shed or a stranger in its place.
 * @param {Response} response
 * @param {{code?: unknown, message?: unknown} | undefined} told
 * @returns {SyncError & {said?: unknown}} with the shed's own words
 */
function errorOf({ status, headers }, told) {
  const retryAfter = Number(headers.get("Retry-After"));
  const after = retryAfter > 0 ? retryAfter * 1000 : undefined;
  if (typeof told?.code === "string") {
    return Object.assign(new SyncError(told.code, after), { said: told.message });
  }
  return new SyncError(status >= 500 ? SERVER_FAILED : UNREACHABLE, after);
}
