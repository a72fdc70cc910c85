// @ts-check
// Puts together what the screens see, from what the garden holds.
import { withUnit } from "../units.js";
import { compose } from "../words.js";
import { makeLook } from "./look.js";
import { makeNameOf } from "./names.js";
import { isFaulty } from "./soundness.js";

/** @typedef {import("../types.js").State} State */

/**
 * @typedef {Pick<State, "session" | "route" | "sync" | "attention" | "persisted" | "update"
 *   | "notices" | "walks" | "invitation" | "zone" | "reports" | "calendars">
 *   & {standing: import("./standing.js").Standing, assets: import("./edge.js").Assets,
 *      photos: import("../types.js").PhotoRow[], preferences: import("../types.js").Preferences,
 *      present: {day: number, instant: number}, waitingIds: ReadonlySet<string>, unsaved: number,
 *      heard: import("../store/schema.js").Heard | undefined}} Held
 */

/**
 * @param {Held} held
 * @returns {State}
 */
export function makeState(held) {
  const { standing, assets, present, heard, zone, waitingIds, preferences } = held;
  const { words, kinds } = assets;
  const { ledger } = standing;
  const knownAtMs = heard?.knownAtMs ?? null;
  const devices = heard?.devices ?? [];
  // What was stored before the shed named people has none.
  const people = heard?.people ?? [];
  const now = present.instant;
  const look = makeLook(standing, kinds, {
    now, today: present.day, knownAtMs, waiting: waitingIds, attention: held.attention,
  });
  const nameOf = makeNameOf({ session: held.session, devices, people, look }, words);
  /** @type {State["say"]} */
  const say = (key, values = {}) =>
    compose(words, key, withUnit(preferences.units, values), nameOf, zone, preferences.units);
  return {
    ready: true,
    session: held.session && withRole(held.session, heard?.role),
    route: held.route,
    zone,
    today: present.day,
    now,
    beds: inWalkOrder(ledger.beds().filter((bed) => !bed.hidden), ledger.settings().walk_order),
    plantings: ledger.plantings().filter((planting) => !planting.hidden),
    settings: ledger.settings(),
    findings: standing.sorted(),
    kinds,
    languages: assets.languages,
    language: assets.language,
    preferences,
    rulebook: assets.rulebook,
    waiting: waitingIds.size,
    waitingPhotos: new Set(
      held.photos.filter((row) => row.state === "waiting").map((row) => row.sha256)),
    refusedPhotos: held.photos.filter((row) => row.state === "refused"),
    unsaved: held.unsaved,
    lastSyncMs: heard?.lastSyncMs ?? null,
    knownAtMs,
    sync: held.sync,
    attention: held.attention,
    faulty: standing.untold().filter(isFaulty),
    isBroken: standing.broken.size > 0,
    devices,
    missing: heard?.missing ?? [],
    persisted: held.persisted,
    update: held.update,
    clockOff: heard?.clockOff ?? null,
    notices: held.notices,
    walks: held.walks,
    invitation: held.invitation,
    reports: held.reports,
    calendars: held.calendars,
    look,
    say,
    sayIf: (key, values) => (key in words ? say(key, values) : null),
  };
}

/**
 * The shed may have given this person another role since.
 * @param {import("../types.js").Session} session
 * @param {string | undefined} role
 */
const withRole = (session, role) => ({ ...session, role: role ?? session.role });

/**
 * Beds that the walk names first, in its order; then the others by id, which is by age.
 * @param {import("../types.js").Bed[]} beds
 * @param {unknown} written
 */
function inWalkOrder(beds, written) {
  const order = Array.isArray(written) ? written : [];
  const place = new Map(order.map((id, index) => [id, index]));
  const of = (/** @type {{id: string}} */ bed) => place.get(bed.id) ?? order.length;
  return beds.sort((a, b) => of(a) - of(b) || (a.id < b.id ? -1 : 1));
}
