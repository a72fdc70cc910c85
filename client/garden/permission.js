// @ts-check
// What the shed will refuse of this person, refused here already: a treatment that looks lifted on
// one phone, until the shed says no, is a danger.

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Session} Session */

/** Thrown when this person may not write an entry; nothing was written. */
export class NotPermitted extends Error {
  constructor() {
    super("not_permitted");
    this.name = "NotPermitted";
  }
}

/**
 * May only the lead change or take back entries of this kind?
 * @param {Pick<Session, "role"> | null} session
 * @param {string} kind
 */
export const isLeadsToChange = (session, kind) => kind === "treat" && session?.role !== "lead";

/**
 * Would the entry change or lift a treatment that this person may not?
 * @param {{kind: string, details?: Entry["details"]}} written
 * @param {Pick<Session, "role"> | null} session
 * @param {(id: string) => Entry | undefined} find
 */
export function isLiftingForbidden({ kind, details }, session, find) {
  if (kind !== "void" && kind !== "correct") return false;
  const changed = find(String(details?.entry))?.kind ?? details?.kind;
  return typeof changed === "string" && isLeadsToChange(session, changed);
}
