// @ts-check
// What the shed will refuse of this person, refused here already: a treatment that looks lifted on
// one phone, until the shed says no, is a danger.
import { MENDING_KINDS } from "../log/telling.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Session} Session */
/**
 * @typedef {{id?: string, kind: string, subjects?: Entry["subjects"], details?: Entry["details"],
 *   answers?: string}} Written
 */
/** @typedef {import("../types.js").State["look"]} Look */

/** Thrown when this person may not write an entry; nothing was written. */
export class NotPermitted extends Error {
  constructor() {
    super("not_permitted");
    this.name = "NotPermitted";
  }
}

/**
 * Does work of this kind, said like this, keep others from work or from picking?
 * @param {unknown} kind
 * @param {unknown} details
 */
export const makesWait = (kind, details) =>
  kind === "treat" || (kind === "feed"
    && /** @type {{origin?: unknown} | null | undefined} */ (details)?.origin === "raw_manure");

/**
 * May only the lead change or take back this entry? What was raw manure in one telling stays so.
 * @param {Pick<Session, "role"> | null} session
 * @param {Pick<Entry, "id" | "kind" | "details">} entry
 * @param {Pick<Look, "mendings">} look
 */
export const isLeadsToChange = (session, { id, kind, details }, look) =>
  session?.role !== "lead" && (makesWait(kind, details) || look.mendings(id).some((mending) =>
    mending.kind === "correct" && makesWait(kind, mending.details.restated)));

/**
 * May only the lead answer this finding? A wait that is decided on is told no more; work that was
 * logged inside one is another matter. But to decide on fruit that was picked inside one, or on a
 * lot in the store, sets it free to be eaten.
 * @param {Pick<Session, "role"> | null} session
 * @param {string} key
 * @param {Pick<Look, "rule">} look
 */
export function isLeadsToDecide(session, key, look) {
  const [ruleId, , ...ordinal] = key.split("/");
  const rule = look.rule(ruleId);
  if (session?.role === "lead") return false;
  if (rule?.shape === "keeping") return true;
  if (rule?.shape !== "withhold") return false;
  const { softly, blocks } = /** @type {{softly?: boolean, blocks: string | string[]}} */ (
    rule.params
  );
  if (softly === true) return false;
  return blocks.includes("pick") || !ordinal.join("/").startsWith("flag.");
}

/**
 * Does the entry make another crop of a planting that is there? How long raw manure withholds its
 * fruit depends on the crop.
 * @param {Written} written
 */
function isOtherCrop({ id, kind, subjects, details }) {
  if (kind === "planting") return details?.crop !== undefined && id !== subjects?.planting;
  const told = /** @type {{crop?: unknown} | undefined} */ (details?.restated);
  return kind === "correct" && details?.kind === "planting" && told?.crop !== undefined;
}

/**
 * Would the entry change or lift a treatment, or end a wait, that this person may not?
 * @param {Written} written
 * @param {Pick<Session, "role"> | null} session
 * @param {Pick<Look, "rule" | "entry" | "mendings">} look
 */
export function isLiftingForbidden({ id, kind, subjects, details, answers }, session, look) {
  if (session?.role !== "lead" && isOtherCrop({ id, kind, subjects, details })) return true;
  if (answers !== undefined && isLeadsToDecide(session, answers, look)) return true;
  if (!MENDING_KINDS.includes(kind)) return false;
  const changed = look.entry(String(details?.entry));
  if (changed) return isLeadsToChange(session, changed, look);
  return session?.role !== "lead" && makesWait(details?.kind, details?.restated);
}
