// @ts-check
// One plant of a scouting walk: where it stands, and large buttons for what is on it.
import { writtenOrHeld } from "../garden/not_saved.js";
import { answerFrom, entriesOf, findingOf, GRADE_FLOORS, isClear, nextPlant } from "../garden/walk_reading.js";
import { withTaps } from "../garden/walk_written.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { rowOf } from "../log/layout.js";
import { presentIn } from "../zone.js";
import { local } from "./local.js";
import { showChosen } from "./plan_zoom.js";
import { press } from "./press.js";
import { stepper } from "./stepper.js";
import { walkPlan } from "./walk_plan.js";
import { running } from "./walk_told.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Walk} Walk */

const COUNTS = [1, 2, 3, 4, 5, 10];

/** @param {State} state @param {Actions} actions @param {Walk} walk @param {Planting} planting */
export function walkStep(state, actions, walk, planting) {
  const finding = findingOf(state, walk, planting);
  const isPlain = isClear(walk, answerFrom(finding));
  const next = nextPlant(walk);
  return local(
    `walk ${walk.startedMs}`,
    () => ({ goesOn: false }),
    (held, change) => {
      const isOver = next === undefined || (isPlain && !held.goesOn);
      return html`<section class="stack walk-look" aria-labelledby="walk-next">
          <h2 id="walk-next" aria-live="polite">
            ${isOver ? state.say("screen.scout_walk.over") : whereIs(state, planting, next)}
          </h2>
          <p class="small">${progress(state, walk)}</p>
          ${
            isOver
              ? finishing(state, actions, walk, planting, next !== undefined, () =>
                  change((now) => {
                    now.goesOn = true;
                  }),
                )
              : looking(state, actions, walk)
          }
          ${mending(state, actions, walk)}
        </section>
        ${running(state, walk, planting, finding)} ${walkPlan(state, actions, walk, planting)}
        ${isOver ? nothing : stopping(state, actions, walk, planting)}`;
    },
  );
}

/** "Plant 12, row 2, place 5". @param {State} state @param {Planting} planting @param {number} plant */
function whereIs(state, planting, plant) {
  const [count, rows] = [Number(planting.plants), Number(planting.rows) || 1];
  const row = rowOf(plant, count, rows);
  let place = 1;
  while (place < plant && rowOf(plant - place, count, rows) === row) place += 1;
  return state.say("screen.scout_walk.plant", { number: plant, row, place });
}

/** @param {State} state @param {Walk} walk */
const progress = (state, { organism, taps, order }) =>
  state.say("screen.scout_walk.progress", { organism, done: taps.length, all: order.length });

/**
 * A tap is taken once it is on the disk; the screen goes on then.
 * @param {State} state @param {Actions} actions @param {Walk} walk
 * @param {number | null} found @param {string} [grade]
 */
async function tell(state, actions, walk, found, grade) {
  const tap = { plant: walk.order[walk.taps.length], found, ...(grade ? { grade } : {}) };
  const lastAt = presentIn(state.zone, Date.now()).text;
  await actions.keepWalk({ ...withTaps(walk, [...walk.taps, tap]), lastAt });
  showChosen();
}

/** @param {State} state @param {Actions} actions @param {Walk} walk */
function looking(state, actions, walk) {
  const on = (/** @type {number} */ found, /** @type {string} */ grade = "") => () =>
    tell(state, actions, walk, found, grade || undefined);
  const clean = press(state.say("screen.scout_walk.clean"), on(0), "press-ink press-tall press-wide");
  if (walk.by === "count") return html`${clean}${counting(state, on, walk)}`;
  return html`${clean}
    <div class="presses walk-grades">
      ${Object.keys(GRADE_FLOORS).map((grade) =>
        press(
          html`<b>${state.say(`choice.grade.${grade}`)}</b
            ><span>${state.say(`screen.scout_walk.range_${grade}`)}</span>`,
          on(GRADE_FLOORS[grade], grade),
          "press-tall",
        ),
      )}
    </div>`;
}

/** @param {State} state @param {(found: number) => () => unknown} on @param {Walk} walk */
function counting(state, on, { per, taps }) {
  const label = state.say("screen.scout_walk.number", { per_what: per });
  return html`<p class="small">${label}</p>
    <div class="presses presses-five">${COUNTS.map((count) => press(count, on(count), "press-field"))}</div>
    ${local(
      `count ${taps.length}`,
      () => ({ count: /** @type {unknown} */ (COUNTS[COUNTS.length - 1]) }),
      (held, change) => {
        const isNumber = Number.isInteger(held.count) && Number(held.count) > 0;
        return html`${stepper(state, {
          id: "walk-number",
          label,
          value: held.count,
          step: 1,
          min: 1,
          whole: true,
          change: (count) =>
            change((now) => {
              now.count = count;
            }),
        })}
        ${
          isNumber
            ? press(
                state.say("screen.scout_walk.so_many", { count: held.count }),
                on(Number(held.count)),
                "press-field press-wide",
              )
            : html`<p class="form-odd">${state.say("screen.scout_walk.whole_number")}</p>`
        }`;
      },
    )}`;
}

/** @param {State} state @param {Actions} actions @param {Walk} walk */
const mending = (state, actions, walk) =>
  html`<div class="presses presses-two">
    ${
      walk.taps.length
        ? press(
            state.say("screen.scout_walk.undo"),
            () => actions.keepWalk(withTaps(walk, walk.taps.slice(0, -1))),
            "press-field press-quiet",
          )
        : nothing
    }
    ${
      nextPlant(walk) === undefined
        ? nothing
        : press(
            state.say("screen.scout_walk.skip"),
            () => tell(state, actions, walk, null),
            "press-field press-quiet",
          )
    }
  </div>`;

/**
 * @param {State} state @param {Actions} actions @param {Walk} walk @param {Planting} planting
 * @param {boolean} isEarly @param {() => void} goOn
 */
const finishing = (state, actions, walk, planting, isEarly, goOn) =>
  html`${writeDown(state, actions, walk, planting, "press-ink press-tall press-wide")}
  ${isEarly ? press(state.say("screen.scout_walk.go_on"), goOn, "press-field press-wide") : nothing}`;

/** @param {State} state @param {Actions} actions @param {Walk} walk @param {Planting} planting */
const stopping = (state, actions, walk, planting) =>
  html`<div class="presses">
    ${writeDown(state, actions, walk, planting, "press-field")}
  </div>
  <details class="help">
    <summary>${state.say("screen.scout_walk.drop")}</summary>
    <p class="small">${state.say("screen.scout_walk.drop_sure", { count: walk.taps.length })}</p>
    ${press(state.say("screen.scout_walk.drop"), () => actions.dropWalk(walk.planting), "press-field")}
  </details>`;

/**
 * @param {State} state @param {Actions} actions @param {Walk} walk @param {Planting} planting
 * @param {string} look
 */
function writeDown(state, actions, walk, planting, look) {
  const [first, ...rest] = entriesOf(walk);
  if (!first) return nothing;
  const subjects = (/** @type {number[]} */ plants) =>
    ({ ...(planting.bed ? { bed: planting.bed } : {}), planting: planting.id, plants });
  return press(
    state.say("screen.scout_walk.write"),
    async () => {
      const further = rest.map(({ plants, details }) => ({ subjects: subjects(plants), details }));
      await writtenOrHeld(
        actions.record({
          id: walk.entry,
          kind: "scout",
          subjects: subjects(first.plants),
          details: first.details,
          happened_at: walk.lastAt,
          ...(further.length ? { further } : {}),
        }),
      );
      await actions.keepWalk({ ...walk, writtenMs: Date.now() });
    },
    look,
  );
}
