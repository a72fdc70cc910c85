// @ts-check
// The findings sorted into the stops of the round. A finding that closes a bed moves it to the end
// of the walk, and so does a grower's suspicion, so that hands carry nothing from it to other beds.
import { onceEach } from "./figures.js";
import { blocksHands, messageOf } from "./telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Finding} Finding */
/**
 * @typedef {object} Stop
 * @property {string} key
 * @property {Bed | undefined} bed absent: plants that are in no bed yet
 * @property {Planting[]} plantings
 * @property {Finding[]} jobs overdue, due and blocked
 * @property {Finding[]} others what is not known, or goes against a rule
 * @property {string | undefined} lastBecause why this stop comes last, in words
 * @property {Finding | undefined} closedBy the finding that closes the bed
 */

const JOBS = new Set(["overdue", "due", "blocked"]);
const OTHERS = new Set(["unknown", "flagged"]);

/** @param {State} state @returns {Stop[]} */
export function stopsOf(state) {
  const inBeds = state.beds
    .filter((bed) => !bed.retired_on)
    .map((bed) =>
      stopOf(
        state,
        bed.id,
        bed,
        state.plantings.filter((planting) => planting.bed === bed.id),
      ),
    );
  const loose = state.plantings.filter((planting) => !planting.bed && !planting.until_day);
  return loose.length ? [...inBeds, stopOf(state, "no-bed", undefined, loose)] : inBeds;
}

/**
 * @param {State} state
 * @param {string} key
 * @param {Bed | undefined} bed
 * @param {Planting[]} plantings
 * @returns {Stop}
 */
function stopOf(state, key, bed, plantings) {
  const ids = new Set(plantings.map((planting) => planting.id));
  const here = state.findings.filter((finding) =>
    bed ? finding.subject.bed === bed.id : ids.has(finding.subject.planting ?? ""),
  );
  const closedBy = here.find((finding) => closes(state, finding));
  return {
    key,
    bed,
    plantings,
    jobs: here.filter((finding) => JOBS.has(finding.state) && !closes(state, finding)),
    others: onceEach(here).filter((finding) => OTHERS.has(finding.state)),
    lastBecause: closedBy ? messageOf(state, closedBy) : suspicion(state, bed),
    closedBy,
  };
}

/** @param {State} state @param {Bed | undefined} bed */
const suspicion = (state, bed) =>
  bed?.visit_last ? state.say("screen.round.visit_last", { because: bed.visit_last }) : undefined;

/** Is this a reason to come here last? @param {State} state @param {Finding} finding */
function closes(state, finding) {
  const rule = state.look.rule(finding.rule);
  return rule?.shape === "withhold" && blocksHands(rule) && finding.state === "blocked";
}
