// Asks the phone's scouting walk for its path, its entries and its hot spot.
import { readFileSync } from "node:fs";
import { pathOver } from "../../client/garden/walk_path.js";
import { entriesOf, figuresOf } from "../../client/garden/walk_reading.js";
import { hotSpot } from "../../client/garden/walk_spots.js";

const { plants, count, how, seed, walk, planting, bed } = JSON.parse(readFileSync(0, "utf8"));
const told = plants
  ? pathOver(plants, count, how, seed)
  : {
      entries: entriesOf(walk),
      figures: figuresOf(walk) ?? null,
      spot: hotSpot(walk, planting, bed) ?? null,
    };
process.stdout.write(JSON.stringify(told));
