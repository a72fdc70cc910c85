// @ts-check
/**
 * Whether a kind of work is withheld. The best it ever says is that nothing is known against it.
 * Twin of server/shedbook/rules/withheld.py.
 */

/** @typedef {import("./finding.js").Finding} Finding */

/** By how much two clocks may differ and still count as the same time. */
const AHEAD_S = 300;

/**
 * Blocked until the latest end; unknown when a span is, or when the log may be out of date.
 * @param {Finding[]} findings @param {string} kind @param {number} now
 * @param {number | null} knownAt @param {number} staleAfterS
 * @returns {import("../types.js").Withheld}
 */
export function withheld(findings, kind, now, knownAt, staleAfterS) {
  const about = findings.filter((made) => made.blocks?.includes(kind));
  const active = about.filter((made) =>
    made.state === "blocked" && made.until !== null && now < made.until);
  const unknown = about.filter((made) => made.state === "unknown");
  // A phone whose clock was put back knows nothing newer for it.
  const stale = knownAt === null || now - knownAt > staleAfterS || knownAt > now + AHEAD_S;
  const state = active.length ? "blocked" : unknown.length || stale ? "unknown" : "none_known";
  const told = active.length ? active : unknown;
  let until = null;
  for (const made of active) {
    if (until === null || /** @type {number} */ (made.until) > until) until = made.until;
  }
  return { state, until, keys: told.map((made) => made.key).sort(), known_at: knownAt };
}
