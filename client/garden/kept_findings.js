// @ts-check
// The findings as they were reckoned last, kept so that the round is on the screen before the rules
// have run. They stand in until each subject's turn comes, and only for the very log, rules and day
// that they were reckoned from, while nothing in them has begun or ended since.
import { DIGEST } from "../served.js";
import { whole } from "../store/whole.js";

/** @typedef {import("./standing.js").Standing} Standing */
/** @typedef {import("./standing.js").Present} Present */
/** @typedef {import("../store/schema.js").Store} Store */

/** Taps often come in a row. */
const KEPT_AFTER_MS = 300;

/**
 * Whether the standing, which has none yet, has taken up the findings that were kept.
 * @param {import("../store/schema.js").MetaValues["findings"] | undefined} kept
 * @param {Standing} standing
 * @param {Present} present
 */
export function recallFindings(kept, standing, present) {
  if (kept?.of !== markOf(standing, present) || kept.reviewed.instant > present.instant) return false;
  standing.recall(kept.told, kept.reviewed);
  if (standing.nextTurn(kept.reviewed.instant) > present.instant) return true;
  standing.recall([], kept.reviewed);
  return false;
}

/**
 * Keeps the findings of a garden when no more have come for a while; without a store they are not kept,
 * nor once the phone has left that garden.
 * @param {Store} store
 * @returns {(standing: Standing, garden: string | undefined) => void}
 */
export function makeKeeper(store) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let soon;
  /** @type {unknown} */
  let keptLast;
  return (standing, garden) => {
    clearTimeout(soon);
    soon = setTimeout(() => {
      const told = standing.sorted();
      if (told === keptLast || !standing.isWhole) return;
      keptLast = told;
      const { findings, reviewed } = standing;
      const kept = { of: markOf(standing, reviewed), reviewed, told: [...findings] };
      write(store, garden, kept).catch(() => undefined);
    }, KEPT_AFTER_MS);
  };
}

/**
 * In one transaction with the question for the garden, which another tab may have left.
 * @param {Store} store
 * @param {string | undefined} garden
 * @param {import("../store/schema.js").MetaValues["findings"]} kept
 */
async function write(store, garden, kept) {
  const tx = store.transaction("meta", "readwrite");
  await whole(tx, async () => {
    const session = /** @type {import("../types.js").Session | undefined} */ (
      await tx.store.get("session"));
    if (session && session.garden.id === garden) await tx.store.put(kept, "findings");
  });
}

/**
 * What the findings follow from: the client and its rules, the day, and the log by its length and a
 * sum over its entries, in whatever order they lie. An exchange may take one out and bring another.
 * @param {Standing} standing
 * @param {Present} present
 */
function markOf({ entries, rulebook }, { day }) {
  let sum = 0;
  for (const { order, clock, id } of entries.values()) {
    sum = (sum + hashOf(id, hashOf(order ?? clock))) | 0;
  }
  return [DIGEST, rulebook.digest, day, entries.size, sum].join(" ");
}

/** As FNV-1a does it, from its first value or from what came before. @param {string} text */
function hashOf(text, hash = 0x811c9dc5) {
  for (let at = 0; at < text.length; at += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  }
  return hash;
}
