// @ts-check
// Read-only questions that screens ask the garden while they are drawn.
import { viewOfBed, viewOfPlanting } from "../log/view.js";
import { livePlants } from "../log/ledger.js";
import { followers, nextSeasonDay } from "../rules/followers.js";
import { withheld } from "../rules/withheld.js";
import { labelWaits } from "./label_waits.js";
import { uncountedTreatments } from "./uncounted.js";
import { seriesIn } from "./series.js";
import { waterLinesOf } from "./water.js";

/** @typedef {import("../types.js").Look} Look */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").Withheld} Withheld */

const STALE_AFTER_HOURS = 24;

/**
 * @param {import("./standing.js").Standing} standing
 * @param {import("../types.js").KindDescription[]} kinds
 * @param {{now: number, today: number, knownAtMs: number | null, waiting: ReadonlySet<string>,
 *   attention: readonly import("../types.js").Attention[]}} present
 * @returns {Look}
 */
export function makeLook(standing, kinds, { now, today, knownAtMs, waiting, attention }) {
  const { ledger } = standing;
  const all = standing.sorted();
  const knownAt = knownAtMs === null ? null : Math.floor(knownAtMs / 1000);
  const told = ledger.settings().stale_after_hours;
  const staleAfter = typeof told === "number" ? told : STALE_AFTER_HOURS;
  /** @type {((subject: Subjects) => string[]) | undefined} */
  let uncounted;
  return {
    bed: (id) => ledger.bed(id) ?? undefined,
    planting: (id) => ledger.planting(id) ?? undefined,
    plantingsOf: (bed) => ledger.plantings().filter((one) => !one.hidden && one.bed === bed),
    livePlants,
    event: (id) => ledger.event(id) ?? undefined,
    entry: (id) => standing.entries.get(id),
    events: (filter = {}) => eventsOf(standing, filter),
    mendings: (id) => standing.mendings(id),
    view: ({ planting, bed }) => {
      if (planting) return viewOfPlanting(ledger, planting) ?? undefined;
      return bed ? (viewOfBed(ledger, bed) ?? undefined) : undefined;
    },
    finding: (key) => all.find((finding) => finding.key === key),
    // About a bed is what names it; about a planting what names that.
    findingsOf: ({ bed, planting }) => nearOf(all, planting ? { planting } : { bed }),
    withheld: (kind, subject) => {
      const bed = subject.bed ?? (subject.planting && ledger.planting(subject.planting)?.bed);
      const near = nearOf(all, { ...subject, bed }).filter((one) => reaches(one, { ...subject, bed }));
      const known = withheld(near, kind, now, knownAt, staleAfter * 3600);
      uncounted ??= uncountedTreatments(standing, attention);
      return atLeastUnknown(known, uncounted({ ...subject, bed }), isUnread(standing, subject, bed));
    },
    // With nothing withheld, only the age of the news can make the answer unknown.
    isStale: withheld([], "pick", now, knownAt, staleAfter * 3600).state === "unknown",
    followers: (bed) => followersIn(standing, bed, { today, now }),
    waterLines: (bed) => waterLinesOf(standing, bed, { today, now }),
    series: seriesIn(standing, { today, now }),
    labelWaits: (event) => labelWaits(standing, now, event),
    kind: (name) => kinds.find((kind) => kind.name === name),
    rule: (id) => standing.rules.get(id),
    isWaiting: (id) => waiting.has(id),
  };
}

/**
 * The crops of the rule book and the garden's own; those once grown or wished for come first among
 * equals.
 * @param {import("./standing.js").Standing} standing
 * @param {string} bed
 * @param {{today: number, now: number}} present
 */
function followersIn(standing, bed, { today, now }) {
  const { ledger, rulebook } = standing;
  const view = viewOfBed(ledger, bed);
  if (view === null) return undefined;
  const grown = ledger.plantings().flatMap(({ hidden, crop }) => (hidden || !crop ? [] : [crop]));
  const wished = eventsOf(standing, { kind: "wish" }).flatMap(({ details: { crop } }) =>
    typeof crop === "string" ? [crop] : [],
  );
  const own = new Set([...grown, ...wished]);
  const day = nextSeasonDay(ledger.settings(), today);
  const crops = [...own, ...Object.keys(rulebook.crops)];
  return { day, ranked: followers(view, rulebook, today, now, day, crops, own) };
}

/**
 * What is on this phone but in no reckoning may hold work back, for all that is known.
 * @param {Withheld} known
 * @param {string[]} uncounted
 * @param {boolean} isUnread the rules have nothing to say here yet, or broke down
 * @returns {Withheld}
 */
function atLeastUnknown(known, uncounted, isUnread) {
  if (!uncounted.length && !isUnread) return known;
  return { ...known, state: known.state === "blocked" ? "blocked" : "unknown", uncounted };
}

/**
 * Are there no findings on this planting, its bed, or anything in the bed that is asked about: not
 * even that there is nothing to say? The rules broke down there, or have not run since a start.
 * @param {import("./standing.js").Standing} standing
 * @param {Subjects} subject
 * @param {string | undefined} bed
 */
function isUnread({ findings, ledger }, { planting }, bed) {
  if (bed !== undefined && ledger.bed(bed) && !findings.has(`bed:${bed}`)) return true;
  if (planting !== undefined) {
    return ledger.planting(planting) !== null && !findings.has(`planting:${planting}`);
  }
  const residents = bed === undefined ? [] : ledger.residents(bed);
  return residents.some((one) => !findings.has(`planting:${one.id}`));
}

/**
 * Newest first. Those of one place come from the ledger's own index, so that a screen full of beds
 * costs what the beds hold.
 * @param {import("./standing.js").Standing} standing
 * @param {import("../types.js").EventFilter} filter
 */
function eventsOf(standing, { bed, planting, kind, limit = Infinity }) {
  const near = planting !== undefined
    ? standing.ledger.eventsOfPlanting(planting)
    : bed === undefined ? standing.events() : standing.ledger.eventsInBed(bed);
  /** @type {import("../types.js").LoggedEvent[]} */
  const found = [];
  for (let at = near.length - 1; at >= 0 && found.length < limit; at -= 1) {
    const event = near[at];
    if (bed !== undefined && event.bed !== bed) continue;
    if (kind === undefined || event.kind === kind) found.push(event);
  }
  return found;
}

/**
 * What names the bed or the planting, found once for each list of findings: a screen full of beds asks
 * a hundred times.
 * @type {WeakMap<Finding[], Map<string, Finding[]>>}
 */
const NEAR = new WeakMap();

/**
 * @param {Finding[]} all
 * @param {Subjects} subject
 */
function nearOf(all, { bed, planting }) {
  /** @type {Map<string, Finding[]>} */
  const places = NEAR.get(all) ?? new Map();
  NEAR.set(all, places);
  const key = `${bed} ${planting}`;
  const near = places.get(key) ?? all.filter(({ subject }) =>
    (bed !== undefined && subject.bed === bed)
      || (planting !== undefined && subject.planting === planting));
  places.set(key, near);
  return near;
}

/**
 * What may withhold work here: findings on the very planting, and on the whole of its bed.
 * @param {Finding} finding
 * @param {Subjects} subject
 */
function reaches(finding, { bed, planting, plants }) {
  const own = finding.subject;
  if (planting && own.planting && own.planting !== planting) return false;
  if (planting && own.planting) {
    return !plants || !own.plants || plants.some((plant) => own.plants?.includes(plant));
  }
  return bed !== undefined && own.bed === bed;
}
