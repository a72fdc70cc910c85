// @ts-check
// One planting: what is due, quick picking, its rows and plants, and its story so far.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { figures, isFigure } from "../parts/figures.js";
import { lines } from "../parts/lines.js";
import {
  toBed,
  toCouldBe,
  toEvening,
  toReckon,
  toRecord,
  toScoutingWalk,
  toSeedBath,
} from "../parts/paths.js";
import { pickCharts } from "../parts/pick_chart.js";
import { pictures } from "../parts/pictures.js";
import { press, pressLink } from "../parts/press.js";
import { quickWork } from "../parts/quick.js";
import { selecting } from "../parts/selecting.js";
import { labelOf, valueOf, verbOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";
import { warned } from "../parts/warned.js";
import { withheld } from "../parts/withheld.js";
import { work } from "../parts/work.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../types.js").Subjects} Subjects */

const IN_BED = /** @type {const} */ ([
  "feed",
  "pick",
  "scout",
  "prune",
  "stake",
  "treat",
  "discard",
  "note",
]);
const IN_TRAY = /** @type {const} */ ([
  "sow",
  "emerge",
  "thin",
  "pot_on",
  "harden",
  "transplant",
  "water",
  "note",
]);
const QUICK_COUNTS = [1, 2, 3, 4, 5];
const SHOWN_ENTRIES = 12;

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const planting = state.look.planting(state.route.id);
  if (!planting) return lost(state);
  const bed = planting.bed ? state.look.bed(planting.bed) : undefined;
  const subject = { ...(planting.bed ? { bed: planting.bed } : {}), planting: planting.id };
  const isOut = planting.from_day !== undefined;
  return html`${title(state.say("screen.who.planting", { planting: planting.id }), {
      from: bed
        ? { words: state.say("screen.who.bed", { bed: bed.id }), href: toBed(bed.id) }
        : { words: state.say("screen.round.name"), href: "#/" },
      line: stands(state, planting),
    })}
    ${isOut || planting.bed ? withheld(state, subject) : nothing}
    ${warned(state, subject)}
    ${found(state, actions, planting, "due", ["overdue", "due", "blocked"])}
    <section class="stack" aria-labelledby="planting-plants">
      <h2 id="planting-plants">${state.say("screen.planting.plants")}</h2>
      ${selecting(state, actions, bed, [planting], (chosen) =>
        isOut
          ? html`${quickPick(state, actions, chosen)}${quickWork(state, actions, chosen)}`
          : nothing,
      )}
    </section>
    <section class="stack" aria-labelledby="planting-do">
      <h2 id="planting-do">${state.say("screen.planting.do")}</h2>
      <div class="presses">
        ${(isOut ? IN_BED : IN_TRAY)
          .filter((kind) => state.look.kind(kind))
          .map((kind) => pressLink(verbOf(state, kind), toRecord(kind, subject), "press-field"))}
        ${
          isOut
            ? nothing
            : pressLink(
                state.say("screen.seed_bath.title"),
                toSeedBath(planting.id),
                "press-field press-quiet",
              )
        }
        ${pressLink(
          state.say("screen.scout_walk.title"),
          toScoutingWalk(planting.id),
          "press-field press-quiet",
        )}
        ${pressLink(state.say("action.could_be"), toCouldBe(subject), "press-field press-quiet")}
        ${pressLink(
          state.say("screen.evening.name"),
          toEvening(subject),
          "press-field press-quiet",
        )}
        ${pressLink(
          state.say("screen.reckon.title"),
          toReckon(planting.id),
          "press-field press-quiet",
        )}
        ${pressLink(
          state.say("action.write_other"),
          toRecord("", subject),
          "press-field press-quiet",
        )}
      </div>
    </section>
    ${picked(state, planting)}
    ${found(state, actions, planting, "look", ["flagged", "unknown", "upcoming"])}
    ${figures(
      state,
      actions,
      state.findings.filter((finding) => finding.subject.planting === planting.id),
    )}
    ${pictures(state, actions, state.look.events({ planting: planting.id, kind: "photo" }), {
      subjects: subject,
    })}
    <section class="stack" aria-labelledby="planting-facts">
      <h2 id="planting-facts">${state.say("screen.planting.facts")}</h2>
      ${facts(state, planting)}
      <p>
        ${pressLink(
          state.say("action.change_planting"),
          toRecord("planting", subject),
          "press-quiet",
        )}
      </p>
    </section>
    <section class="stack" aria-labelledby="planting-story">
      <h2 id="planting-story">${state.say("screen.planting.story")}</h2>
      ${lines(state, actions, state.look.events({ planting: planting.id, limit: SHOWN_ENTRIES }), {
        where: false,
      })}
      <p>
        <a class="text-press" href="#/log?planting=${encodeURIComponent(planting.id)}"
          >${state.say("action.whole_story")}</a
        >
      </p>
    </section>`;
}

/** @param {State} state @param {Planting} planting */
function stands(state, planting) {
  const count = state.look.livePlants(planting).length;
  return planting.from_day === undefined
    ? state.say("screen.planting.planned", { count })
    : state.say("screen.planting.stands", { from_day: planting.from_day, count });
}

/** @param {State} state @param {Planting} planting */
const picked = (state, planting) =>
  planting.first_pick_day === undefined
    ? nothing
    : html`<section class="stack" aria-labelledby="planting-picked">
        <h2 id="planting-picked">${state.say("screen.planting.picked")}</h2>
        ${pickCharts(state, "picked", [planting])}
      </section>`;

/**
 * Findings on this planting in some states, under a heading.
 * @param {State} state @param {Actions} actions @param {Planting} planting
 * @param {"due" | "look"} name @param {string[]} states
 */
function found(state, actions, planting, name, states) {
  const here = state.findings.filter(
    (finding) =>
      finding.subject.planting === planting.id &&
      states.includes(finding.state) &&
      !isFigure(state, finding) &&
      !(finding.state === "blocked" && state.look.rule(finding.rule)?.shape === "withhold"),
  );
  if (!here.length) return nothing;
  const full = name === "look";
  return html`<section class="stack" aria-labelledby="planting-${name}">
    <h2 id="planting-${name}">${state.say(`screen.bed.${name}`)}</h2>
    <ul class="work-list">
      ${repeat(
        here,
        (finding) => finding.key,
        (finding) => work(state, actions, finding, { full }),
      )}
    </ul>
  </section>`;
}

/**
 * Picked 1 to 5, from the chosen plants or from the planting.
 * @param {State} state
 * @param {Actions} actions
 * @param {Subjects} subjects
 */
function quickPick(state, actions, subjects) {
  const verb = verbOf(state, "pick");
  if (state.look.withheld("pick", subjects).state === "blocked") return nothing;
  return html`<div class="stack" role="group" aria-label=${verb}>
    <p class="small">${state.say("screen.planting.quick_pick", { verb })}</p>
    <div class="presses presses-five">
      ${QUICK_COUNTS.map((count) =>
        press(
          count,
          () => actions.record({ kind: "pick", subjects, details: { count } }),
          "press-ink press-field",
          state.say("screen.planting.pick_name", { verb, count }),
        ),
      )}
    </div>
  </div>`;
}

/** @param {State} state @param {Planting} planting */
function facts(state, planting) {
  const told = (state.look.kind("planting")?.fields ?? []).filter(
    (field) => planting[field.name] !== undefined && planting[field.name] !== null,
  );
  return html`<dl class="facts">
    ${told.map(
      (field) =>
        html`<dt>${labelOf(state, "planting", field.name)}</dt>
          <dd>${valueOf(state, "planting", field, planting[field.name])}</dd>`,
    )}
  </dl>`;
}
