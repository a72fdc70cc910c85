// @ts-check
/**
 * What a rule sees: one subject's events by kind, the plants they cover, the rule's own numbers.
 * Everything read from a log may be missing or odd, so each reader here answers null instead of
 * throwing. Twin of server/shedbook/rules/match.py.
 */

/** @typedef {import("../types.js").LoggedEvent} Event */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").View} View */
/** @typedef {import("../types.js").Rulebook} Rulebook */
/** @typedef {{field: string, is?: string[], at_least?: number, at_most?: number, above?: number,
 *   yes?: boolean, or_absent?: boolean}} Where */
/** @typedef {{kind: string, where?: Where[]}} Condition */
/**
 * A row; what `params` holds depends on the shape, and the shed has checked it.
 * @typedef {{id: string, shape: string, says?: string, subject: string, params: Record<string, any>,
 *   settles?: {kind: string, details: Record<string, unknown>}, crops?: string[],
 *   families?: string[], bed_where?: Where[], advises?: Record<string, number>}} Rule
 */
/**
 * One subject's view, made ready for the shapes; `ahead` holds events dated in the future, `known`
 * what several rules ask for, such as the weather of a span of days.
 * @typedef {{view: View, rulebook: Rulebook, today: number, now: number, events: Event[],
 *   byKind: Map<string, Event[]>, ahead: Map<string, Event[]>,
 *   declined: Map<string, number>, named: Map<string, Set<number>>,
 *   known: Map<string, unknown>}} Context
 */

const LARGEST = 1_000_000_000;
const MOST_PLANTS = 20_000;
export const AHEAD_S = 86_400;
/** Stands for all plants of a planting whose number was never logged. */
export const UNCOUNTED = 0;

/**
 * Sort the view's events by kind, once for all rules.
 * @param {View} view @param {Rulebook} rulebook @param {number} today @param {number} now
 * @returns {Context}
 */
export function contextOf(view, rulebook, today, now) {
  const byKind = new Map();
  const ahead = new Map();
  const declined = new Map();
  const events = inTime(view.events);
  for (const event of events) {
    const kept = event.instant > now + AHEAD_S ? ahead : byKind;
    const listed = kept.get(event.kind);
    if (listed) listed.push(event);
    else kept.set(event.kind, [event]);
    if (event.kind === "decline" && kept === byKind && event.answers !== undefined) {
      declined.set(event.answers, event.instant);
    }
  }
  const named = new Map();
  const known = new Map();
  return { view, rulebook, today, now, events, byKind, ahead, declined, named, known };
}

/** @param {string} one @param {string} other */
export const compareText = (one, other) => (one < other ? -1 : one > other ? 1 : 0);

/** @param {Event} one @param {Event} other */
export const compareTime = (one, other) =>
  one.instant - other.instant
  || compareText(one.order, other.order)
  || compareText(one.id, other.id);

/** The events, earliest first; most come so already. @param {Iterable<Event>} events */
export function inTime(events) {
  const list = [...events];
  for (let at = 1; at < list.length; at += 1) {
    if (compareTime(list[at - 1], list[at]) > 0) return list.sort(compareTime);
  }
  return list;
}

/** The events, earliest first, each once. @param {Event[]} events */
export const onceEach = (events) =>
  inTime(events).filter((event, at, all) => at === 0 || event.id !== all[at - 1].id);

/**
 * The value, if it is a number of a size that a garden can have.
 * @param {unknown} value
 */
export const number = (value) =>
  typeof value === "number" && Math.abs(value) <= LARGEST ? value : null;

/** The value, if it is text. @param {unknown} value */
export const text = (value) => (typeof value === "string" ? value : null);

/**
 * What a mapping from the log holds under a key, null if it is no mapping.
 * @param {unknown} container @param {string} key
 * @returns {unknown}
 */
export function own(container, key) {
  if (typeof container !== "object" || container === null || !Object.hasOwn(container, key)) {
    return null;
  }
  return /** @type {Record<string, unknown>} */ (container)[key] ?? null;
}

/**
 * Do the fields meet every condition of a `where`?
 * @param {Where[]} conditions @param {Record<string, unknown>} fields
 */
export const holds = (conditions, fields) =>
  conditions.every((condition) => meets(condition, fields[condition.field] ?? null));

/** @param {Where} condition @param {unknown} value */
function meets(condition, value) {
  if (value === null) return condition.or_absent === true;
  if (condition.is !== undefined) return typeof value === "string" && condition.is.includes(value);
  if (condition.yes !== undefined) return value === condition.yes;
  const size = number(value);
  if (size === null) return false;
  if (condition.at_least !== undefined) return size >= condition.at_least;
  if (condition.at_most !== undefined) return size <= condition.at_most;
  return size > /** @type {number} */ (condition.above);
}

/**
 * The view's events of a kind that meet its `where`, earliest first.
 * @param {Context} context @param {Condition} condition
 */
export function find(context, condition) {
  const found = context.byKind.get(condition.kind) ?? [];
  const where = condition.where;
  return where ? found.filter((event) => holds(where, event.details)) : found;
}

/**
 * Index of the first of the events, earliest first, that is not before the instant.
 * @param {Event[]} events @param {number} instant
 */
export function since(events, instant) {
  let [low, high] = [0, events.length];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (events[middle].instant < instant) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Is the event about this planting: named, or as part of its bed or of the garden?
 * @param {Event} event @param {Planting} planting
 */
export function concerns(event, planting) {
  if (event.planting !== undefined) return event.planting === planting.id;
  return event.bed === undefined || event.bed === planting.bed;
}

/**
 * Matching events that concern the planting, earliest first.
 * @param {Context} context @param {Condition} condition @param {Planting} planting
 */
export const findFor = (context, condition, planting) =>
  find(context, condition).filter((event) => concerns(event, planting));

/**
 * The plants that the event names, null if it reaches all of its planting.
 * @param {Event} event
 */
export const namedPlants = (event) =>
  event.planting !== undefined && event.plants !== undefined ? event.plants : null;

/**
 * The same as a set, made once for each event: a list of thousands is searched once a plant.
 * @param {Context} context @param {Event} event
 */
export function namedSet(context, event) {
  const plants = namedPlants(event);
  if (plants === null) return null;
  const known = context.named.get(event.id) ?? new Set(plants);
  context.named.set(event.id, known);
  return known;
}

/**
 * Does an event that concerns the planting reach this plant?
 * @param {Context} context @param {Event} event @param {number} plant
 */
export const covers = (context, event, plant) => namedSet(context, event)?.has(plant) ?? true;

/**
 * The plants not removed by today, ascending; UNCOUNTED alone when their number is not known.
 * @param {Planting} planting @param {number} today
 */
export function livePlants(planting, today) {
  const count = number(planting.plants);
  if (count === null || count < 1 || count > MOST_PLANTS) return [UNCOUNTED];
  const removed = planting.removed ?? {};
  const live = [];
  for (let plant = 1; plant <= count; plant += 1) {
    if (!(removed[plant] <= today)) live.push(plant);
  }
  return live;
}

/**
 * The plants in groups that no event tells apart, so that a group needs one look.
 * @param {number[]} plants @param {Event[]} events
 */
export function plantGroups(plants, events) {
  let groups = plants.length ? [plants] : [];
  for (const event of events) {
    const listed = namedPlants(event);
    if (listed === null) continue;
    const named = new Set(listed);
    const halves = groups.map((group) => group.filter((plant) => named.has(plant)));
    const rests = groups.map((group) => group.filter((plant) => !named.has(plant)));
    groups = [...halves, ...rests].filter((group) => group.length);
  }
  return groups;
}

/** Was the planting cleared by today? @param {Planting} planting @param {number} today */
export const hasEnded = (planting, today) =>
  planting.until_day !== undefined && planting.until_day <= today;

/**
 * Is the planting in the ground (or in its container) today?
 * @param {Planting} planting @param {number} today
 */
export const stands = (planting, today) =>
  planting.from_day !== undefined && planting.from_day <= today && !hasEnded(planting, today);

/**
 * A number of the rule; the garden's own threshold goes before the row's.
 * @param {Context} context @param {Rule} rule @param {string} param
 */
export function limit(context, rule, param) {
  const chosen = number(own(context.view.settings.thresholds, `${rule.id}.${param}`));
  return chosen !== null && chosen >= 0 ? chosen : number(rule.params[param]);
}

/**
 * A number of the rule in whole days, 0 if the row has none.
 * @param {Context} context @param {Rule} rule @param {string} param
 */
export const days = (context, rule, param) => Math.floor(limit(context, rule, param) ?? 0);

/**
 * A fact about a crop: from the garden's own crops, else from the crops that ship.
 * @param {Context} context @param {unknown} crop @param {string} field
 */
export function cropFact(context, crop, field) {
  if (typeof crop !== "string") return null;
  const chosen = own(own(context.view.settings.crops, crop), field);
  return chosen ?? own(own(context.rulebook.crops, crop), field);
}

/**
 * The family of the planting's crop, null if the crop is not known.
 * @param {Context} context @param {Planting} planting
 */
export const familyOf = (context, planting) => text(cropFact(context, planting.crop, "family"));

/**
 * Is the view's subject one that the rule is about?
 * @param {Context} context @param {Rule} rule
 */
export function applies(context, rule) {
  const { kind, bed, planting } = context.view;
  if (rule.subject !== kind && rule.subject !== "both") return false;
  if (rule.bed_where && !holds(rule.bed_where, bed ?? {})) return false;
  if (rule.crops && !(planting?.crop !== undefined && rule.crops.includes(planting.crop))) {
    return false;
  }
  if (!rule.families) return true;
  const family = planting && familyOf(context, planting);
  return family !== null && rule.families.includes(family);
}
