// @ts-check
// What people call the things that entries name by id.

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Person} Person */
/** @typedef {import("../types.js").Planting} Planting */

/**
 * @param {Pick<State, "session" | "devices" | "look"> & {people: Person[]}} state
 * @param {Record<string, string>} words
 * @returns {(id: string) => string | undefined}
 */
export function makeNameOf({ session, devices, people, look }, words) {
  /** @type {Map<string, string>} */
  const known = new Map();
  for (const one of [...devices, ...people]) known.set(one.id, one.name);
  if (session) {
    known.set(session.person.id, session.person.name);
    known.set(session.device.id, session.device.name);
    known.set(session.garden.id, session.garden.name);
  }
  return (id) => {
    const bed = look.bed(id);
    if (bed) return bed.name;
    const planting = look.planting(id);
    return planting ? plantingName(planting, words) : known.get(id);
  };
}

/**
 * @param {Planting} planting
 * @param {Record<string, string>} words
 */
function plantingName({ crop, variety }, words) {
  const word = crop === undefined ? undefined : (words[`crop.${crop}`] ?? crop);
  if (!variety || word === undefined) return word ?? variety;
  const form = words["value.planting"] ?? "{variety} ({crop})";
  return form.replaceAll("{variety}", variety).replaceAll("{crop}", word);
}
