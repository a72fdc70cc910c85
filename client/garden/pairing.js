// @ts-check
// Joining a garden, leaving it, and losing it when the lead revokes this phone.
import { forgetPulled } from "../store/entries.js";
import { readMeta, writeMeta } from "../store/meta.js";
import { send, spendCode } from "../sync/protocol.js";

/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("../store/schema.js").Store} Store */

/**
 * Spends a one-time code; this phone is then a device of the garden that gave it. What was pulled
 * from another garden goes; what this phone has not handed over stays.
 * @param {Store} store
 * @param {string} code
 * @param {string} deviceName
 */
export async function joinGarden(store, code, deviceName) {
  const session = await spendCode(code, deviceName);
  const position = await readMeta(store, "cursor");
  if (position && position.garden !== session.garden.id) await forgetPulled(store);
  await writeMeta(store, "session", session);
  await writeMeta(store, "renewedMs", Date.now());
  await writeMeta(store, "revoked", false);
}

const RENEW_AFTER_MS = 30 * 24 * 3_600_000;

/**
 * Browsers forget a secret that is not given anew, so it is asked for now and then; names and the
 * role may have changed too.
 * @param {Store} store
 * @param {number} nowMs
 */
export async function renewSession(store, nowMs) {
  const renewedMs = (await readMeta(store, "renewedMs")) ?? 0;
  if (nowMs - renewedMs < RENEW_AFTER_MS) return undefined;
  const session = /** @type {Session} */ (await send("GET", "/api/session"));
  await writeMeta(store, "session", session);
  await writeMeta(store, "renewedMs", nowMs);
  return session;
}

/**
 * Ends the pairing at the shed, and forgets what the shed has.
 * @param {Store} store
 */
export async function leaveGarden(store) {
  await send("DELETE", "/api/session");
  await forgetPulled(store);
  await store.delete("meta", "session");
}

/**
 * The shed has revoked this phone: what it pulled is not its to keep.
 * @param {Store} store
 */
export async function wipeRevoked(store) {
  await forgetPulled(store);
  await store.delete("meta", "session");
  await writeMeta(store, "revoked", true);
}

/** A name for this device that the lead can tell from others; the person may type a better one. */
export function guessDeviceName() {
  const { userAgent } = navigator;
  const known = ["Android", "iPhone", "iPad", "Windows", "Macintosh", "Linux"];
  return known.find((name) => userAgent.includes(name)) ?? "Browser";
}
