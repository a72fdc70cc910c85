// What charts draw of a garden, and where the kit puts it: one JSON request in, one JSON answer out.
import { readFileSync } from "node:fs";
import { Standing } from "../../client/garden/standing.js";
import { seriesIn } from "../../client/garden/series.js";
import { areaOf, perSquareMetre } from "../../client/garden/series/picks.js";
import { standingIn, standsOf, yearsOf } from "../../client/garden/series/rotation.js";
import { gapsBetween, longestOf } from "../../client/garden/series/waterings.js";
import { linear, roundTicks } from "../../client/parts/chart/scale.js";

const request = JSON.parse(readFileSync(0, "utf-8"));

/** The series of a bed and a planting, as known at an instant. */
function told({ entries, rulebook, day, now, bed, planting, first_day }) {
  const standing = new Standing(rulebook);
  standing.start(entries);
  const series = seriesIn(standing, { today: day, now });
  const found = standing.ledger.planting(planting);
  const area = areaOf(found);
  const mass = series.picks(planting, "mass_g");
  const stands = standsOf(standing.ledger.plantings(), day);
  const waterings = standing.events().filter(({ kind }) => kind === "water");
  const gaps = gapsBetween(waterings, now);
  return {
    mass,
    count: series.picks(planting, "count"),
    area,
    per_area: area === null ? null : perSquareMetre(mass, area),
    losses: series.losses(bed, first_day),
    air: series.air(planting),
    looked: series.looked(planting),
    gaps: gaps.map(({ hours, isRunning }) => [hours, isRunning]),
    longest: gaps.length ? longestOf(gaps).hours : null,
    years: stands.length ? yearsOf(stands) : [],
    stands: stands.map(({ planting: { id }, first, last, isPlanned }) => [id, first, last, isPlanned]),
    this_year: standingIn(stands, bed, 2026).map(({ planting: { id } }) => id),
  };
}

const { ticks = [], places = [] } = request;
process.stdout.write(JSON.stringify(request.entries ? told(request) : {
  ticks: ticks.map(([low, high, least]) => roundTicks(low, high, least)),
  places: places.map(([from, to, start, end, value]) => linear(from, to, start, end)(value)),
}));
