// @ts-check
/**
 * What of long ago the rules no longer look at; the twin of server/shedbook/rules/long_ago.py, which
 * says why.
 * Weather and routine work of more than 400 days ago is not seen, unless it was done for a planting
 * of the bed that has not ended: what names one, and work on the whole bed since it was made ready for
 * the first of them. A pick is seen with its own planting while the log says that fruit of it is in the
 * store, for three years; raw manure and troubles of the soil for ever.
 */
import { WEATHER_KINDS } from "../log/telling.js";
import { hasLot } from "./keeping.js";
import { hasEnded, text } from "./match.js";

/** @typedef {import("../log/ledger.js").Ledger} Ledger */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Rulebook} Rulebook */

export const LONG_AGO_DAYS = 400;
const READY_DAYS = 120;
const ROUTINE_KINDS = new Set([
  "water", "feed", "mulch", "prune", "stake", "weed", "cover", "clean", "thin", "pot_on",
  "harden", "stage", "scout", "pick", "discard", "note", "photo",
  ...WEATHER_KINDS,
]);
const STORED_DAYS = 1_100;
const STORED_KIND = "pick";

/**
 * Did it end so long ago that nothing is asked of it any more?
 * @param {Ledger} ledger @param {Planting} planting @param {number} today
 */
export function isLongOver(ledger, planting, today) {
  const until = planting.until_day;
  const isOld = until !== undefined && until < today - LONG_AGO_DAYS;
  return isOld && !mayBeStored(ledger, planting, today);
}

/**
 * Does the log say that fruit of it is in the store, and can that still be so?
 * @param {Ledger} ledger @param {Planting} planting @param {number} today
 */
function mayBeStored(ledger, planting, today) {
  const until = planting.until_day;
  const isLate = until === undefined || until >= today - STORED_DAYS;
  return isLate && hasLot(ledger.eventsOfPlanting(planting.id));
}

/**
 * The first day whose work on a whole bed is seen: of long ago where something grows on.
 * @param {Ledger} ledger @param {string | undefined} bedId @param {number} today
 */
function seenSince(ledger, bedId, today) {
  let first = today - LONG_AGO_DAYS;
  for (const planting of bedId === undefined ? [] : ledger.residents(bedId)) {
    if (planting.from_day === undefined || hasEnded(planting, today)) continue;
    first = Math.min(first, planting.from_day - READY_DAYS);
  }
  return first;
}

/**
 * Does a routine entry tell of something for ever: raw manure, or a trouble of the soil?
 * @param {LoggedEvent} event @param {Rulebook} rulebook
 */
function isLasting({ kind, details }, { hosts }) {
  if (kind === "feed") return details.origin === "raw_manure";
  const organism = kind === "scout" ? text(details.organism) : null;
  return organism !== null && Object.hasOwn(hosts ?? {}, organism);
}

/**
 * Whether the rules on a bed, or on its planting `own`, may see an event.
 * @param {Ledger} ledger @param {string | undefined} bedId
 * @param {Rulebook} rulebook @param {number} today @param {Planting | null} own
 * @returns {(event: LoggedEvent) => boolean}
 */
export function sightOf(ledger, bedId, rulebook, today, own) {
  const recent = today - LONG_AGO_DAYS;
  const since = seenSince(ledger, bedId, today);
  const stored = own !== null && mayBeStored(ledger, own, today) ? own.id : null;
  return (event) => {
    if (event.day >= recent) return true;
    if (event.bed === undefined && event.planting === undefined) return false;
    if (!ROUTINE_KINDS.has(event.kind) || isLasting(event, rulebook)) return true;
    if (event.planting === undefined) return event.day >= since;
    const planting = ledger.planting(event.planting);
    if (planting === null || planting.bed !== bedId) return false;
    if (!hasEnded(planting, today)) return true;
    return event.kind === STORED_KIND && planting.id === stored;
  };
}
