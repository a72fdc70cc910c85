// @ts-check
// What a form starts from and where its content goes: a new entry, one that settles a finding, a
// correction, a mended entry, or changed fields of a bed or planting.
import { writtenOrHeld } from "../garden/not_saved.js";
import { dayText } from "../log/moment.js";
import { subjectsOf, toEntry, toSubject } from "./paths.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").KindDescription} KindDescription */
/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {{subjects: Subjects, details: Details, happenedAt?: string}} Start */
/** @typedef {import("./form.js").Filled} Filled */
/** @typedef {Record<string, string>} Query */

/** @param {State} state @param {KindDescription} kind @param {Query} query @returns {Start} */
export function startFor(state, kind, query) {
  if (query.correct) return startFromEvent(state, query.correct);
  if (query.mends) return startFromSetAside(state, query.mends);
  const subjects = subjectsOf(query);
  if (kind.structural) return { subjects, details: presentFields(state, kind, subjects) };
  const settles = query.answers ? state.look.finding(query.answers)?.settles : undefined;
  return {
    subjects: withBed(state, subjects),
    details: settles?.kind === kind.name ? { ...settles.details } : {},
  };
}

/** A planting knows its bed. @param {State} state @param {Subjects} subjects @returns {Subjects} */
function withBed(state, subjects) {
  const bed = subjects.planting ? state.look.planting(subjects.planting)?.bed : undefined;
  return bed && !subjects.bed ? { ...subjects, bed } : subjects;
}

/** @param {State} state @param {string} rootId @returns {Start} */
function startFromEvent(state, rootId) {
  const event = state.look.event(rootId);
  const entry = state.look.entry(rootId);
  if (!event)
    return {
      subjects: entry?.subjects ?? {},
      details: entry?.details ?? {},
      happenedAt: entry?.happened_at,
    };
  const { bed, planting, plants } = event;
  return {
    subjects: {
      ...(bed ? { bed } : {}),
      ...(planting ? { planting } : {}),
      ...(plants ? { plants } : {}),
    },
    details: event.details,
    happenedAt: effectiveMoment(entry?.happened_at, event),
  };
}

/**
 * The corrected wall clock with the offset that the entry was written with.
 * @param {string | undefined} recorded
 * @param {{day: number, hour: number, minute: number}} event
 */
function effectiveMoment(recorded, { day, hour, minute }) {
  const pair = (/** @type {number} */ value) => String(value).padStart(2, "0");
  const wall = `${dayText(day)}T${pair(hour)}:${pair(minute)}`;
  return recorded && !recorded.startsWith(wall) ? `${wall}:00${recorded.slice(19)}` : recorded;
}

/** @param {State} state @param {string} id @returns {Start} */
function startFromSetAside(state, id) {
  const entry = state.attention.find((item) => item.id === id)?.entry;
  return {
    subjects: entry?.subjects ?? {},
    details: entry?.details ?? {},
    happenedAt: entry?.happened_at,
  };
}

/**
 * @param {State} state
 * @param {KindDescription} kind
 * @param {Subjects} subjects
 * @returns {Details}
 */
function presentFields(state, kind, subjects) {
  const now =
    kind.name === "bed"
      ? state.look.bed(subjects.bed ?? "")
      : kind.name === "planting"
        ? state.look.planting(subjects.planting ?? "")
        : kind.name === "setting"
          ? state.settings
          : undefined;
  return Object.fromEntries(
    kind.fields.flatMap(({ name }) =>
      now?.[name] === undefined || now[name] === null ? [] : [[name, now[name]]],
    ),
  );
}

/**
 * @param {State} state @param {Actions} actions @param {KindDescription} kind
 * @param {Query} query @param {Start} start @param {Filled} filled
 */
export async function submitFor(state, actions, kind, query, start, filled) {
  if (query.correct) {
    const change = {
      subjects: filled.subjects,
      ...(filled.happened_at ? { happened_at: filled.happened_at } : {}),
    };
    await writtenOrHeld(actions.correct(query.correct, filled.details, change));
    actions.go(toEntry(query.correct));
    return;
  }
  const draft = { kind: kind.name, ...filled };
  if (query.mends) {
    await writtenOrHeld(actions.mend(query.mends, draft));
    actions.go("#/attention");
    return;
  }
  if (kind.structural) {
    const details = changedFields(start.details, filled.details);
    const changed = { kind: kind.name, subjects: filled.subjects, details };
    if (Object.keys(details).length) await writtenOrHeld(actions.record(changed));
  } else {
    const whole = query.answers ? { ...draft, answers: query.answers } : draft;
    await writtenOrHeld(actions.record(whole));
  }
  actions.go(
    query.answers ? "#/" : kind.name === "setting" ? "#/garden" : toSubject({ ...filled.subjects }),
  );
}

/**
 * Only what changed; what was emptied is cleared by null.
 * @param {Details} before
 * @param {Details} after
 */
export function changedFields(before, after) {
  /** @type {Details} */
  const changed = {};
  for (const name of new Set([...Object.keys(before), ...Object.keys(after)]))
    if (JSON.stringify(before[name]) !== JSON.stringify(after[name]))
      changed[name] = after[name] ?? null;
  return changed;
}
