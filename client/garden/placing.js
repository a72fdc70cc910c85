// @ts-check
// Where work happens, when the screen did not say so.

/**
 * Work on plants that stand in a bed happens in that bed, whether or not the screen names it: a
 * treatment closes the place. What is still in a tray has no bed.
 * @param {import("../types.js").Draft} draft
 * @param {import("../types.js").Look} look
 */
export function placed({ kind, subjects = {} }, look) {
  const planting = subjects.planting === undefined ? undefined : look.planting(subjects.planting);
  const about = look.kind(kind);
  const wantsBed = about?.structural === false && about.subjects.bed !== "none";
  if (!wantsBed || subjects.bed !== undefined || !planting?.standing) return subjects;
  return { ...subjects, bed: planting.bed };
}
