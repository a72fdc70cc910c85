// @ts-check
// The findings as they were reckoned last, kept so that the round is on the screen before the rules
// have run. They stand in until each subject's turn comes, and only for the very log, rules and day
// that they were reckoned from, while nothing in them has begun or ended since.
import { DIGEST } from "../served.js";
import { writeMeta } from "../store/meta.js";

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
 * Keeps the findings when no more have come for a while; without a store they are not kept.
 * @param {Store} store
 * @returns {(standing: Standing) => void}
 */
export function makeKeeper(store) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let soon;
  /** @type {unknown} */
  let keptLast;
  return (standing) => {
    clearTimeout(soon);
    soon = setTimeout(() => {
      const told = standing.sorted();
      if (told === keptLast || !standing.isWhole) return;
      keptLast = told;
      const { findings, reviewed } = standing;
      const kept = { of: markOf(standing, reviewed), reviewed, told: [...findings] };
      writeMeta(store, "findings", kept).catch(() => undefined);
    }, KEPT_AFTER_MS);
  };
}

/**
 * What the findings follow from: the client and its rules, the day, and the log by its length and
 * its newest word.
 * @param {Standing} standing
 * @param {Present} present
 */
function markOf({ entries, rulebook }, { day }) {
  let newest = "";
  for (const { order, clock, id } of entries.values()) {
    const word = `${order ?? clock} ${id}`;
    if (word > newest) newest = word;
  }
  return [DIGEST, rulebook.digest, day, entries.size, newest].join(" ");
}
