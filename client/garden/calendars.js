// @ts-check
// Private addresses under which a calendar program fetches what is due. They live at the shed alone.
import { send } from "../sync/protocol.js";

/** @typedef {import("../garden.js").Garden} Garden */
/** @typedef {import("../types.js").Calendars} Calendars */

/** @type {Calendars} */
export const NO_CALENDARS = { known: null, made: null };

/** @param {Garden} garden */
export async function askCalendars(garden) {
  const answer = /** @type {{calendars: NonNullable<Calendars["known"]>}} */ (
    await send("GET", addressIn(garden)));
  show(garden, { known: answer.calendars });
}

/**
 * The address is told this once: what opens it is stored nowhere.
 * @param {Garden} garden
 */
export async function makeCalendar(garden) {
  const made = /** @type {{address: string}} */ (
    await send("POST", addressIn(garden), { language: garden.state.language }));
  show(garden, { made: made.address });
  await askCalendars(garden);
}

/** @param {Garden} garden @param {string} id */
export async function shutCalendar(garden, id) {
  await send("DELETE", `${addressIn(garden)}/${id}`);
  show(garden, { made: null });
  await askCalendars(garden);
}

/** @param {Garden} garden */
const addressIn = (garden) => `/api/gardens/${garden.held.session?.garden.id ?? ""}/calendars`;

/** @param {Garden} garden @param {Partial<Calendars>} change */
function show(garden, change) {
  garden.held.calendars = { ...garden.held.calendars, ...change };
  garden.changed();
}
