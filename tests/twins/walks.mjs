// Asks the phone's scouting walk for its path, its entries and its hot spot.
import { readFileSync } from "node:fs";
import { pathOver } from "../../client/garden/walk_path.js";
import { entriesOf, figuresOf } from "../../client/garden/walk_reading.js";
import { hotSpot } from "../../client/garden/walk_spots.js";
import { isWritten, withTaps } from "../../client/garden/walk_written.js";

/** Does a walk pass for written when its entry is in the log, and does it with one tap more? */
function writtenUntil({ walk, tap }) {
  const state = { look: { entry: (id) => (id === walk.entry ? { id } : undefined) } };
  const more = withTaps(walk, [...walk.taps, tap]);
  return { before: isWritten(state, walk), after: isWritten(state, more), taps: more.taps };
}

const request = JSON.parse(readFileSync(0, "utf8"));
const { plants, count, how, seed, walk, planting, bed } = request;
const told = request.tap
  ? writtenUntil(request)
  : plants
    ? pathOver(plants, count, how, seed)
    : {
        entries: entriesOf(walk),
        figures: figuresOf(walk) ?? null,
        spot: hotSpot(walk, planting, bed) ?? null,
      };
process.stdout.write(JSON.stringify(told));
