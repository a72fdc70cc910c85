// @ts-check
// Screens for looking things up, for the evening and for paper, in one file that is fetched when the
// first of them is opened: a phone's first load has only what is done between the beds.
export * as attention from "./attention.js";
export * as couldBe from "./could_be.js";
export * as entry from "./entry.js";
export * as evening from "./evening.js";
export * as garden from "./garden.js";
export * as log from "./log.js";
export * as nextSeason from "./next_season.js";
export * as paper from "./paper.js";
export * as photo from "./photo.js";
export * as reckon from "./reckon.js";
export * as review from "./review.js";
export * as scan from "./scan.js";
export * as scouting from "./scouting.js";
export * as scoutingWalk from "./scouting_walk.js";
export * as seedBath from "./seed_bath.js";
export * as shed from "./shed.js";
export * as start from "./start.js";
export * as tag from "./tag.js";
export * as walk from "./walk.js";
