// @ts-check
// All that a garden opens with, read at once.
import { readLog } from "./entries.js";
import { readMeta } from "./meta.js";

/** @typedef {Awaited<ReturnType<typeof readBook>>} Book */

/** @param {import("./schema.js").Store} store */
export async function readBook(store) {
  const session = readMeta(store, "session");
  const [log, persisted, revoked, reports, findings] = await Promise.all([
    session.then((own) => (own ? readLog(store, own.garden.id) : [])),
    readMeta(store, "persisted"), readMeta(store, "revoked"), readMeta(store, "reports"),
    readMeta(store, "findings"),
  ]);
  return { session: await session, log, persisted, revoked, reports, findings };
}
