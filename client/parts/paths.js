// @ts-check
// Where each screen lies: the one place that builds hash addresses.

/** @typedef {import("../types.js").Subjects} Subjects */

const code = encodeURIComponent;

/** @param {string} id */
export const toBed = (id) => `#/bed/${code(id)}`;
/** @param {string} id */
export const toPlanting = (id) => `#/planting/${code(id)}`;
/** One plant's own story. @param {string} planting @param {number} ordinal */
export const toPlant = (planting, ordinal) => `#/plant/${code(planting)}/${ordinal}`;
/** @param {string} planting */
export const toScoutingWalk = (planting) => `#/scouting-walk?planting=${code(planting)}`;
/** @param {string} bed */
export const toScoutingWalkIn = (bed) => `#/scouting-walk?bed=${code(bed)}`;
/** @param {string} id */
export const toEntry = (id) => `#/entry/${code(id)}`;
/** @param {string} id of the photo's entry */
export const toPhoto = (id) => `#/photo/${code(id)}`;
/** All photos in the log, or those of a bed. @param {string} [bed] */
export const toPhotos = (bed) =>
  bed ? `#/log?bed=${code(bed)}&kind=photo` : "#/log?kind=photo";
/** @param {string} key */
export const toFinding = (key) => `#/finding/${code(key)}`;

/**
 * @param {string} planting
 * @param {{water?: number, minutes?: number, until?: number}} [bath] what runs, and to which moment
 */
export const toSeedBath = (planting, bath = {}) =>
  `#/seed-bath?${[["planting", planting], ...Object.entries(bath)]
    .map(([name, value]) => `${name}=${code(value)}`)
    .join("&")}`;

/** @param {Subjects} subjects */
export const toCouldBe = ({ planting, bed }) =>
  planting ? `#/could-be?planting=${code(planting)}` : `#/could-be?bed=${code(bed ?? "")}`;

/** @param {string} [planting] */
export const toReckon = (planting) =>
  planting ? `#/reckon?planting=${code(planting)}` : "#/reckon";

/** A bed's history, for paper. @param {string} bed @param {boolean} [withPhotos] */
export const toBedPaper = (bed, withPhotos = false) =>
  `#/paper/bed?bed=${code(bed)}${withPhotos ? "&photos=1" : ""}`;

/** The treatments of some days, for paper. @param {string} [from] @param {string} [until] */
export const toTreatmentsPaper = (from, until) =>
  from && until ? `#/paper/treatments?from=${from}&until=${until}` : "#/paper/treatments";

/** What a tag leads to; printed in its QR code, so it must never change. @param {string} tagCode */
export const toTag = (tagCode) => `#/t/${code(tagCode)}`;

/** The code of a tag's link; undefined for any other text. @param {string} text */
export const codeInLink = (text) => /^https?:\/\/[^/]+\/#\/t\/([^/?#]+)$/.exec(text)?.[1];

/** The season's charts: of the garden, a bed or a planting. @param {Subjects} [subjects] */
export function toEvening({ planting, bed } = {}) {
  if (planting) return `#/evening?planting=${code(planting)}`;
  return bed ? `#/evening?bed=${code(bed)}` : "#/evening";
}

/** @param {Subjects} subject */
export function toSubject(subject) {
  if (subject.planting) return toPlanting(subject.planting);
  return subject.bed ? toBed(subject.bed) : "#/";
}

/**
 * @param {string} kind
 * @param {Subjects} [subjects]
 * @param {Record<string, string | undefined>} [more] answers, mends, correct
 */
export function toRecord(kind, subjects = {}, more = {}) {
  const asked = {
    bed: subjects.bed,
    planting: subjects.planting,
    plants: subjects.plants?.join(","),
    ...more,
  };
  const parts = Object.entries(asked).flatMap(([name, value]) =>
    value ? [`${name}=${code(value)}`] : [],
  );
  return `#/record/${code(kind)}${parts.length ? `?${parts.join("&")}` : ""}`;
}

/**
 * The subjects that an address names.
 * @param {Record<string, string>} query
 * @returns {Subjects}
 */
export function subjectsOf(query) {
  /** @type {Subjects} */
  const subjects = {};
  if (query.bed) subjects.bed = query.bed;
  if (query.planting) subjects.planting = query.planting;
  const plants = (query.plants ?? "")
    .split(",")
    .map(Number)
    .filter((ordinal) => ordinal > 0);
  if (plants.length) subjects.plants = plants;
  return subjects;
}
