// @ts-check
// Which screen belongs to which route, inside the frame that all of them share.
import { html } from "../vendor/lit-html/lit-html.js";
import { frame } from "../parts/frame.js";
import { lost, title } from "../parts/title.js";
import * as attention from "./attention.js";
import * as bed from "./bed.js";
import * as couldBe from "./could_be.js";
import * as entry from "./entry.js";
import * as finding from "./finding.js";
import * as garden from "./garden.js";
import * as join from "./join.js";
import * as log from "./log.js";
import * as made from "./new.js";
import * as nextSeason from "./next_season.js";
import * as phone from "./phone.js";
import * as photo from "./photo.js";
import * as planting from "./planting.js";
import * as reckon from "./reckon.js";
import * as record from "./record.js";
import * as review from "./review.js";
import * as round from "./round.js";
import * as scouting from "./scouting.js";
import * as seedBath from "./seed_bath.js";
import * as shed from "./shed.js";
import * as walk from "./walk.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @type {Map<string, {view: (state: State, actions: Actions) => unknown}>} */
const SCREENS = new Map(
  Object.entries({
    attention,
    bed,
    "could-be": couldBe,
    entry,
    finding,
    garden,
    join,
    log,
    new: made,
    "next-season": nextSeason,
    phone,
    photo,
    planting,
    reckon,
    record,
    review,
    round,
    scouting,
    "seed-bath": seedBath,
    shed,
    walk,
  }),
);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  if (!state.ready) return frame(state, actions, html`${title(state.say("screen.page.opening"))}`);
  const screen = state.session === null ? join : SCREENS.get(state.route.name);
  return frame(state, actions, screen ? screen.view(state, actions) : lost(state));
}
