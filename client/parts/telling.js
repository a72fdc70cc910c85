// @ts-check
// How findings, subjects and values are said: screens put sentences together here alone.
import { parseDay, parseMoment } from "../log/moment.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").FieldDescription} FieldDescription */
/** @typedef {import("../types.js").Details} Details */

const MOST_TOLD = 3;
const GRAMS_A_KG = 1000;
const GRAMS_A_POUND = 453.59237;

/** @param {State} state @param {Finding} finding */
export const titleOf = (state, finding) => state.say(`rule.${finding.rule}.title`);

/** @param {State} state @param {Finding} finding */
export const messageOf = (state, finding) =>
  state.say(`message.${finding.message.key}`, finding.message.values);

/**
 * "5 days late", "Due until …", "Stay out until …", "Not known".
 * @param {State} state
 * @param {Finding} finding
 */
export function whenOf(state, finding) {
  const { closes, opens, until } = finding;
  const values = finding.message.values;
  switch (finding.state) {
    case "overdue":
      if (typeof values.late_days === "number")
        return state.say("screen.when.late_days", { late_days: values.late_days });
      return typeof values.late_hours === "number"
        ? state.say("screen.when.late_hours", { late_hours: values.late_hours })
        : state.say("screen.when.late");
    case "due":
      return closes === null
        ? state.say("screen.when.due")
        : state.say("screen.when.due_until", { closes_day: closes });
    case "upcoming":
      return opens === null
        ? state.say("screen.when.upcoming")
        : state.say("screen.when.from", { opens_day: opens });
    case "blocked":
      return blockedWords(state, finding, until);
    default:
      return state.say(`screen.when.${finding.state}`);
  }
}

/** Does the rule keep hands out of the bed? @param {import("../types.js").Rule | undefined} rule */
export const blocksHands = (rule) =>
  /** @type {{blocks?: unknown} | undefined} */ (rule?.params)?.blocks === "hand_work";

/**
 * A closed bed is to be stayed out of; a waiting time before harvest only forbids the picking.
 * @param {State} state @param {Finding} finding @param {number | null} until
 */
function blockedWords(state, finding, until) {
  const blocker =
    (finding.blocked_by ? state.look.finding(finding.blocked_by) : undefined) ?? finding;
  const what = blocksHands(state.look.rule(blocker.rule)) ? "stay_out" : "no_picking";
  return until === null
    ? state.say(`screen.when.${what}`)
    : state.say(`screen.when.${what}_until`, { until_instant: until });
}

/**
 * The planting and its plants, or the bed when the bed is meant.
 * @param {State} state @param {Subjects} subject
 */
export function whoOf(state, subject) {
  if (!subject.planting)
    return subject.bed
      ? state.say("screen.who.bed", { bed: subject.bed })
      : state.say("screen.who.garden");
  if (!subject.plants?.length)
    return state.say("screen.who.planting", { planting: subject.planting });
  return state.say("screen.who.plants", { planting: subject.planting, plants: subject.plants });
}

/**
 * With the bed in front, for lists that are not kept by bed.
 * @param {State} state
 * @param {Subjects} subject
 */
export function whereOf(state, subject) {
  const who = whoOf(state, subject);
  return subject.bed && subject.planting
    ? state.say("screen.who.in_bed", { bed: subject.bed, what: who })
    : who;
}

/** @param {State} state @param {string} kind @param {string} field */
export const labelOf = (state, kind, field) =>
  state.sayIf(`field.${kind}.${field}`) ?? state.say(`field.${field}`);

/** @param {State} state @param {string} kind @param {string} field @param {string} value */
export const choiceOf = (state, kind, field, value) =>
  state.sayIf(`choice.${kind}.${field}.${value}`) ??
  state.sayIf(`choice.${field}.${value}`) ??
  value;

/**
 * One value of an entry in words, with its unit.
 * @param {State} state @param {string} kind @param {FieldDescription | undefined} field
 * @param {unknown} value @returns {string}
 */
export function valueOf(state, kind, field, value) {
  if (value === null || value === undefined) return state.say("screen.value.cleared");
  if (typeof value === "number")
    return field?.unit
      ? state.say("screen.value.amount", readable(state, value, field.unit))
      : state.say("screen.value.number", { amount: value });
  if (typeof value === "boolean") return state.say("screen.value.yes_no", { flag: value });
  if (Array.isArray(value))
    return field?.type === "id_list"
      ? state.say("screen.value.beds", { beds: value })
      : value.map((one) => state.sayIf(`sign.${one}`) ?? one).join(", ");
  if (typeof value === "object") return JSON.stringify(value);
  return textValue(state, kind, field, String(value));
}

/**
 * A sack of manure is told in kilograms, or in pounds.
 * @param {State} state @param {number} amount @param {string} unit
 */
const readable = (state, amount, unit) =>
  unit === "g" && amount >= (state.preferences.units === "us" ? GRAMS_A_POUND : GRAMS_A_KG)
    ? { amount: amount / GRAMS_A_KG, unit: "kg" }
    : { amount, unit };

/**
 * @param {State} state
 * @param {string} kind
 * @param {FieldDescription | undefined} field
 * @param {string} value
 */
function textValue(state, kind, field, value) {
  try {
    if (field?.type === "date") return state.say("screen.value.day", { at_day: parseDay(value) });
    if (field?.type === "moment")
      return state.say("screen.value.moment", { at_instant: parseMoment(value).instant });
  } catch {
    return value;
  }
  if (field?.name === "suspected") return suspectedOf(state, value);
  if (field?.name === "organism")
    return state.say("screen.scouting.organism", { organism: value });
  if (field?.name === "trouble") return state.sayIf(`trouble.${value}`) ?? value;
  if (field?.name === "crop") return state.say("screen.value.crop", { crop: value });
  return field ? choiceOf(state, kind, field.name, value) : value;
}

/**
 * A suspicion stays one, however often it is read.
 * @param {State} state @param {string} value
 */
const suspectedOf = (state, value) =>
  state.say("screen.value.suspected", { trouble: state.sayIf(`trouble.${value}`) ?? value });

/**
 * The first amounts and choices of an entry on one line: "20 L, drip".
 * @param {State} state @param {string} kind @param {Details} details
 */
export function gist(state, kind, details) {
  const told = gistFields(state, kind)
    .filter((field) => details[field.name] !== undefined && details[field.name] !== null)
    .slice(0, MOST_TOLD)
    .map((field) => {
      const value = valueOf(state, kind, field, details[field.name]);
      const isBare = isNumeric(field) && !field.unit;
      return isBare
        ? state.say("screen.value.named", { label: labelOf(state, kind, field.name), value })
        : value;
    });
  return told.join(", ");
}

/**
 * What a kind's line tells: the fields that come first in its form, what must be there, then
 * amounts, then words.
 * @param {State} state @param {string} kind
 */
function gistFields(state, kind) {
  const about = state.look.kind(kind);
  const first =
    about?.fields.filter(
      (field) => field.primary || about.at_least_one.some((group) => group.includes(field.name)),
    ) ?? [];
  const rank = (/** @type {FieldDescription} */ field) =>
    field.required ? 0 : isNumeric(field) ? 1 : 2;
  return first.sort((a, b) => rank(a) - rank(b));
}

/** @param {FieldDescription} field */
const isNumeric = (field) => field.type === "number" || field.type === "integer";

/**
 * "Water", or the kind's bare name when this version has no word for it.
 * @param {State} state
 * @param {string} kind
 */
export const verbOf = (state, kind) => state.sayIf(`kind.${kind}`) ?? kind;

/** @param {State} state @param {string} kind */
export const doneOf = (state, kind) => state.sayIf(`kind.${kind}.done`) ?? kind;

/**
 * Who wrote something: the person where this device knows the name, else their device.
 * @param {State} state @param {{person?: string, device?: string}} written
 */
export function writerOf(state, { person, device }) {
  const name = state.say("screen.entry.person", { person });
  const isKnown = person !== undefined && name !== state.say("value.unnamed");
  return isKnown || device === undefined ? name : state.say("screen.devices.name", { device });
}
