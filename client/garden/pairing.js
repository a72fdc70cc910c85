// @ts-check
// Joining a garden, leaving it, and losing it when the lead revokes this phone.
import { enterGarden, leaveGarden, renewMembership } from "../store/membership.js";
import { readMeta } from "../store/meta.js";
import { send, spendCode } from "../sync/protocol.js";
import { freshId } from "./edge.js";

/** @typedef {import("../types.js").Session} Session */
/** @typedef {import("../store/schema.js").Store} Store */

/**
 * Spends a one-time code; this phone is then a device of the garden that gave it.
 * @param {Store} store
 * @param {string} code
 * @param {string} deviceName
 */
export async function joinGarden(store, code, deviceName) {
  await enterGarden(store, await spendCode(code, deviceName), Date.now(), freshId());
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
  return (await renewMembership(store, session, nowMs)) ? session : undefined;
}

/**
 * Ends the pairing at the shed, and forgets what the shed has.
 * @param {Store} store
 */
export async function endPairing(store) {
  await send("DELETE", "/api/session");
  await leaveGarden(store, { isRevoked: false });
}

/**
 * The shed has revoked this phone: what it pulled is not its to keep.
 * @param {Store} store
 */
export const wipeRevoked = (store) => leaveGarden(store, { isRevoked: true });
