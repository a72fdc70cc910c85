// @ts-check
/**
 * Whether an event is within a rule's reach: these plants, their whole bed, or its soil.
 * Twin of server/shedbook/rules/reach.py.
 */

/** @typedef {import("./match.js").Context} Context */
/** @typedef {import("./match.js").Event} Event */
/** @typedef {import("./match.js").Planting} Planting */
/** @typedef {import("./match.js").Rule} Rule */

/**
 * Is the event within the rule's reach? What names no bed is in a view for its plants.
 * @param {Context} context @param {Rule} rule @param {Event} event
 */
export function isHere(context, rule, event) {
  const { bed, planting } = context.view;
  if (planting === null) return event.bed === undefined || event.bed === bed?.id;
  if (rule.params.reach === "plants") return isOn(event, planting);
  if (rule.params.reach === "soil") return isInSoil(event, planting);
  return isAround(context, event, planting);
}

/**
 * Is work within the reach? What lies in the soil is met by the plants that stand there.
 * @param {Context} context @param {Rule} rule @param {Event} event
 */
export function isWorkHere(context, rule, event) {
  const planting = context.view.planting;
  if (planting !== null && rule.params.reach === "soil") return isOn(event, planting);
  return isHere(context, rule, event);
}

/**
 * Did it reach these plants: by name, with their bed, or with a bed they stood in before?
 * @param {Event} event @param {Planting} planting
 */
export function isOn(event, planting) {
  if (event.planting !== undefined) return event.planting === planting.id;
  if (event.bed !== undefined && event.bed !== planting.bed) {
    return planting.beds?.includes(event.bed) ?? false;
  }
  // What went into the bed later was not met; of what has no such day that can't be said.
  return planting.from_day === undefined || planting.from_day <= event.day;
}

/**
 * Does it lie in the soil of these plants, put there before they came or for others? What was put
 * there after they were cleared they never met.
 * @param {Event} event @param {Planting} planting
 */
function isInSoil(event, planting) {
  if (event.planting !== undefined && event.planting === planting.id) return true;
  if (planting.until_day !== undefined && planting.until_day < event.day) return false;
  if (event.bed === undefined) return event.planting === undefined;
  return event.bed === planting.bed || (planting.beds?.includes(event.bed) ?? false);
}

/**
 * Must the planting itself tell of it, since no finding of its bed does?
 * @param {Context} context @param {Event} event @param {Planting} planting
 */
function isAround(context, event, planting) {
  const [bed, bedId] = [context.view.bed, planting.bed];
  const isUnseen = bed === null || bed.hidden;
  if (event.planting !== undefined && event.planting === planting.id) {
    return isUnseen || event.bed !== bedId;
  }
  if (event.bed === undefined && event.planting === undefined) return true;
  return isUnseen && bedId !== undefined && (event.bed ?? bedId) === bedId;
}
