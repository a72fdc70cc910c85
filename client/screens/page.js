// @ts-check
// Which screen belongs to which route, inside the frame that all of them share.
import { html } from "../vendor/lit-html/lit-html.js";
import { frame } from "../parts/frame.js";
import { later } from "../parts/later.js";
import { lost, title } from "../parts/title.js";
import { IS_EXAMPLE } from "../store/which.js";
import * as bed from "./bed.js";
import * as exampleAway from "./example_away.js";
import * as finding from "./finding.js";
import * as join from "./join.js";
import * as made from "./new.js";
import * as phone from "./phone.js";
import * as plant from "./plant.js";
import * as planting from "./planting.js";
import * as record from "./record.js";
import * as round from "./round.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @type {typeof import("./seldom.js") | undefined} */
let fetched;
const fetchAll = async () => (fetched ??= await import("./seldom.js"));

/** @param {keyof typeof import("./seldom.js")} name */
function seldom(name) {
  const coming = later(async () => (await fetchAll())[name]);
  /** @type {typeof coming.view} */
  const view = (state, actions) => (fetched?.[name] ?? coming).view(state, actions);
  return { view };
}

/** Before one of them is asked for, so that they open at once, also where no worker keeps them. */
export const fetchSeldom = () => fetchAll().then(() => undefined, () => undefined);

/** @type {Map<string, {view: (state: State, actions: Actions) => unknown}>} */
const SCREENS = new Map(
  Object.entries({
    attention: seldom("attention"),
    bed,
    "could-be": seldom("couldBe"),
    entry: seldom("entry"),
    evening: seldom("evening"),
    finding,
    garden: seldom("garden"),
    join,
    log: seldom("log"),
    new: made,
    "next-season": seldom("nextSeason"),
    paper: seldom("paper"),
    // A newer version is taken here, when the shed may have no file of this one any more.
    phone,
    photo: seldom("photo"),
    plant,
    planting,
    reckon: seldom("reckon"),
    record,
    review: seldom("review"),
    round,
    scan: seldom("scan"),
    scouting: seldom("scouting"),
    "scouting-walk": seldom("scoutingWalk"),
    "seed-bath": seldom("seedBath"),
    shed: seldom("shed"),
    start: seldom("start"),
    t: seldom("tag"),
    walk: seldom("walk"),
  }),
);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  if (!state.ready) return frame(state, actions, html`${title(state.say("screen.page.opening"))}`);
  const outside = IS_EXAMPLE ? exampleAway : join;
  const screen = state.session === null ? outside : SCREENS.get(state.route.name);
  return frame(state, actions, screen ? screen.view(state, actions) : lost(state));
}
