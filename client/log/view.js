// @ts-check
/**
 * What a rule may see: one subject with its bed, residents and weather; twin of log/view.py.
 * An event belongs to a bed only when it names the bed: water given to seedlings in March must not
 * count as water for the bed that they are planted into in May. So a form that records work on a
 * planting names its bed too. A treatment is different, because nobody may be told too little of it:
 * a planting takes along what was sprayed in the beds it stood in, and a bed sees what was sprayed
 * on a planting in it when no bed was named. It takes along raw manure too, also what lay there
 * before.
 */

import { wasThere } from "./fold.js";
import { sortByTime } from "./ledger.js";

/** @import { LoggedEvent, Planting, Subjects, View } from "../types.js" */
/** @import { Ledger } from "./ledger.js" */

/**
 * A planting with its bed and all that happened to either; null when unknown, or hidden.
 * @param {Ledger} ledger @param {string} plantingId @param {boolean} [withHidden]
 * @param {(event: LoggedEvent) => boolean} [sees] which events are seen; without it, all are
 * @returns {View | null}
 */
export function viewOfPlanting(ledger, plantingId, withHidden = false, sees = undefined) {
  const planting = ledger.planting(plantingId);
  if (planting === null || (planting.hidden && !withHidden)) return null;
  const bedId = planting.bed;
  const own = ledger.eventsOfPlanting(plantingId);
  if (bedId === undefined) {
    return viewOf(ledger, "planting", { planting: plantingId }, planting, own, sees);
  }
  const elsewhere = own.filter((event) => event.bed !== bedId);
  elsewhere.push(...waitsOfFormerBeds(ledger, planting));
  const subject = { bed: bedId, planting: plantingId };
  return viewOf(ledger, "planting", subject, planting, elsewhere, sees);
}

/**
 * A bed with its residents and all that happened in it; null when unknown or hidden.
 * @param {Ledger} ledger @param {string} bedId
 * @param {(event: LoggedEvent) => boolean} [sees]
 * @returns {View | null}
 */
export function viewOfBed(ledger, bedId, sees = undefined) {
  const bed = ledger.bed(bedId);
  if (bed === null || bed.hidden) return null;
  return viewOf(ledger, "bed", { bed: bedId }, null, [], sees);
}

/**
 * The one shape of a view; `events` are those that the bed does not already hold.
 * @param {Ledger} ledger @param {"planting" | "bed"} kind @param {Subjects} subject
 * @param {Planting | null} planting @param {LoggedEvent[]} events
 * @param {((event: LoggedEvent) => boolean) | undefined} sees
 * @returns {View}
 */
function viewOf(ledger, kind, subject, planting, events, sees) {
  const bedId = subject.bed;
  const seen = [...events, ...ledger.weather()];
  let residents = planting === null ? [] : [planting];
  /** @type {Planting[]} */
  const neighbours = [];
  if (bedId !== undefined) {
    seen.push(...ledger.eventsInBed(bedId));
    seen.push(...bedlessTreats(ledger, bedId, subject.planting));
    residents = ledger.residents(bedId);
    for (const other of ledger.bedsBeside(bedId)) neighbours.push(...ledger.residents(other));
  }
  return {
    kind,
    subject,
    bed: bedId === undefined ? null : ledger.bed(bedId),
    planting,
    settings: ledger.settings(),
    events: sortByTime(sees === undefined ? seen : seen.filter(sees)),
    residents,
    neighbours: neighbours.sort((a, b) => (a.id < b.id ? -1 : 1)),
  };
}

/**
 * Treatments and raw manure of beds that the planting has left, up to the day it left.
 * @param {Ledger} ledger @param {Planting} planting
 */
function waitsOfFormerBeds(ledger, planting) {
  const former = (planting.beds ?? []).filter((bedId) => bedId !== planting.bed);
  return former.flatMap((bedId) => ledger.eventsInBed(bedId).filter((event) =>
    makesWait(event, planting.id) && wasThere(planting, bedId, event.day)));
}

/**
 * Is it a treatment of the whole bed, or raw manure in its soil, which reaches all in it?
 * @param {LoggedEvent} event @param {string} plantingId
 */
function makesWait({ kind, planting, details }, plantingId) {
  if (planting === plantingId) return false;
  if (kind === "treat") return planting === undefined;
  return kind === "feed" && details.origin === "raw_manure";
}

/**
 * Treatments that name a planting of the bed but no bed, without those of the subject's own.
 * @param {Ledger} ledger @param {string} bedId @param {string | undefined} ownId
 */
function bedlessTreats(ledger, bedId, ownId) {
  const others = ledger.everIn(bedId).filter((planting) => planting.id !== ownId);
  return others.flatMap((planting) => ledger.bedlessTreats(planting.id).filter((event) =>
    wasThere(planting, bedId, event.day)));
}
