// @ts-check
// Before a scouting walk: what to look for, on how many plants, and by which path.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { freshId } from "../garden/edge.js";
import { pathOver } from "../garden/walk_path.js";
import { limitOn } from "../garden/walk_reading.js";
import { rowOf } from "../log/layout.js";
import { presentIn } from "../zone.js";
import { box } from "./choosing.js";
import { local } from "./local.js";
import { toRecord } from "./paths.js";
import { showChosen } from "./plan_zoom.js";
import { press, pressLink } from "./press.js";
import { warned } from "./warned.js";
import { withheld } from "./withheld.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Walk} Walk */
/** @typedef {{organism: string, count: number, how: "even" | "random"}} Wanted */

/** Whatever looks wrong; what it is, is another question. */
const ANYTHING = "anything";
const COUNTS = [10, 20, 30, 50];
const USUAL_COUNT = 20;
const SHOWN = 5;

/** @param {State} state @param {Actions} actions @param {Planting} planting */
export function walkStart(state, actions, planting) {
  const subject = { ...(planting.bed ? { bed: planting.bed } : {}), planting: planting.id };
  const live = state.look.livePlants(planting);
  if (!live.length)
    return html`<p>${state.say("screen.scout_walk.no_plants")}</p>
      <p>
        ${pressLink(state.say("action.change_planting"), toRecord("planting", subject), "press-field")}
      </p>`;
  if (state.session?.role === "reader") return html`<p>${state.say("notice.ask_lead")}</p>`;
  return html`${withheld(state, subject)} ${warned(state, subject)}
  ${
    state.look.withheld("scout", subject).state === "blocked"
      ? nothing
      : local(
          `walk-start ${planting.id}`,
          () => startOf(state, planting, live.length),
          (wanted, change) => asked(state, actions, planting, live, wanted, change),
        )
  }`;
}

/** @param {State} state @param {Planting} planting @param {number} count @returns {Wanted} */
const startOf = (state, planting, count) => ({
  organism: organismsFor(state, planting)[0] ?? ANYTHING,
  count: Math.min(USUAL_COUNT, count),
  how: "even",
});

/**
 * Those looked for here lately, then those that the rulebook knows on the crop.
 * @param {State} state @param {Planting} planting
 */
function organismsFor(state, planting) {
  const lately = state.look
    .events({ planting: planting.id, kind: "scout" })
    .flatMap(({ details: { organism } }) =>
      typeof organism === "string" && organism !== ANYTHING ? [organism] : [],
    );
  const crop = planting.crop ?? "";
  const family = state.rulebook.crops[crop]?.family;
  const usual = Object.entries(state.rulebook.organisms ?? {}).filter(([, row]) => {
    const { crops, families } = /** @type {{crops?: string[], families?: string[]}} */ (row);
    return crops?.includes(crop) || (family !== undefined && families?.includes(family));
  });
  return [...new Set([...lately, ...usual.map(([name]) => name)])];
}

/**
 * @param {State} state @param {Actions} actions @param {Planting} planting @param {number[]} live
 * @param {Wanted} wanted @param {(alter: (held: Wanted) => void) => void} change
 */
function asked(state, actions, planting, live, wanted, change) {
  const set = (/** @type {Partial<Wanted>} */ next) =>
    change((now) => {
      Object.assign(now, next);
    });
  return html`<form class="form" @submit=${(/** @type {Event} */ event) => event.preventDefault()}>
    ${organismChoice(state, planting, wanted, set)} ${countChoice(state, live.length, wanted, set)}
    <fieldset>
      <legend>${state.say("screen.scout_walk.how")}</legend>
      <div class="boxes">
        ${(/** @type {const} */ (["even", "random"])).map((how) =>
          box(
            "radio",
            `walk-${how}`,
            "walk-how",
            state.say(`screen.scout_walk.${how}`),
            wanted.how === how,
            () => set({ how }),
          ),
        )}
      </div>
    </fieldset>
    <p class="small soft">${planFor(state, planting, wanted)}</p>
    ${press(
      state.say("screen.scout_walk.start"),
      async () => {
        await actions.keepWalk(begun(state, planting, live, wanted));
        showChosen();
      },
      "press-ink press-field press-wide",
    )}
  </form>`;
}

/**
 * @param {State} state @param {Planting} planting @param {Wanted} wanted
 * @param {(next: Partial<Wanted>) => void} set
 */
function organismChoice(state, planting, { organism }, set) {
  const all = organismsFor(state, planting);
  const first = all.slice(0, SHOWN);
  const shown = [...new Set([...first, organism, ANYTHING])];
  const rest = all.filter((one) => !shown.includes(one));
  const name = (/** @type {string} */ one) => state.say("screen.scouting.organism", { organism: one });
  return html`<fieldset>
    <legend>${state.say("screen.scout_walk.what")}</legend>
    <div class="boxes">
      ${shown.map((one) =>
        box("radio", `walk-for-${one}`, "walk-for", name(one), organism === one, () =>
          set({ organism: one }),
        ),
      )}
    </div>
    ${
      rest.length
        ? html`<select
            class="text-input walk-other"
            aria-label=${state.say("screen.scout_walk.other")}
            @change=${(/** @type {Event} */ event) => {
              const { value } = /** @type {HTMLSelectElement} */ (event.target);
              if (value) set({ organism: value });
            }}
          >
            <option value="" selected>${state.say("screen.scout_walk.other")}</option>
            ${rest.map((one) => html`<option value=${one}>${name(one)}</option>`)}
          </select>`
        : nothing
    }
  </fieldset>`;
}

/**
 * @param {State} state @param {number} all @param {Wanted} wanted
 * @param {(next: Partial<Wanted>) => void} set
 */
function countChoice(state, all, { count }, set) {
  const offered = [...COUNTS.filter((one) => one < all), all];
  return html`<fieldset>
    <legend>${state.say("screen.scout_walk.how_many")}</legend>
    <div class="boxes">
      ${offered.map((one) =>
        box(
          "radio",
          `walk-count-${one}`,
          "walk-count",
          one === all
            ? state.say("screen.scout_walk.all", { count: one })
            : state.say("screen.value.number", { amount: one }),
          count === one,
          () => set({ count: one }),
        ),
      )}
    </div>
  </fieldset>`;
}

/** How the walk will end, as far as is known. @param {State} state @param {Planting} planting
 * @param {Wanted} wanted */
function planFor(state, planting, { organism, count }) {
  const known = limitOn(state, planting, organism);
  if (!known || known.limit === null)
    return state.say("screen.scout_walk.no_limit", { count });
  if (known.measure !== "share")
    return state.say("screen.scout_walk.counts", { per_what: known.per, count });
  return state.say("screen.scout_walk.stops", { limit_share: known.limit });
}

/**
 * @param {State} state @param {Planting} planting @param {number[]} live @param {Wanted} wanted
 * @returns {Walk}
 */
function begun(state, planting, live, { organism, count, how }) {
  const known = limitOn(state, planting, organism);
  const isCount = known !== undefined && known.limit !== null && known.measure === "mean";
  const startedMs = Date.now();
  const plants = live.map((ordinal) => ({
    ordinal,
    row: rowOf(ordinal, Number(planting.plants), Number(planting.rows) || 1),
  }));
  return {
    garden: state.session?.garden.id ?? "",
    planting: planting.id,
    organism,
    by: isCount ? "count" : "grade",
    per: isCount ? known.per : "plant",
    ...pathOver(plants, count, how, startedMs),
    taps: [],
    startedMs,
    entry: freshId(),
    lastAt: presentIn(state.zone, startedMs).text,
  };
}
