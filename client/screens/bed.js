// @ts-check
// One bed: what may not be done, what is due, water in large buttons, the plan, and what was
// written.
import { figures, isFigure, onceEach } from "../parts/figures.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { bedFacts } from "../parts/bed_facts.js";
import { followers } from "../parts/followers.js";
import { lines } from "../parts/lines.js";
import { toCouldBe, toEvening, toPlanting, toRecord, toScoutingWalkIn } from "../parts/paths.js";
import { pictures } from "../parts/pictures.js";
import { pressLink } from "../parts/press.js";
import { quickWork } from "../parts/quick.js";
import { selecting } from "../parts/selecting.js";
import { verbOf } from "../parts/telling.js";
import { soilTroubles } from "../parts/soil_troubles.js";
import { lost, title } from "../parts/title.js";
import { waterAccount } from "../parts/water_account.js";
import { watering } from "../parts/watering.js";
import { warned } from "../parts/warned.js";
import { withheld } from "../parts/withheld.js";
import { work } from "../parts/work.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Bed} Bed */
/** @typedef {import("../types.js").Planting} Planting */

const QUICK = /** @type {const} */ (["feed", "scout", "pick", "treat", "weed", "note"]);
const SHOWN_ENTRIES = 8;
const LOOKED_AT = new Set(["flagged", "unknown", "upcoming"]);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const bed = state.look.bed(state.route.id);
  if (!bed) return lost(state);
  const plantings = state.look.plantingsOf(bed.id);
  const standing = plantings.filter((planting) => planting.standing);
  return html`${title(state.say("screen.who.bed", { bed: bed.id }), {
    from: { words: state.say("screen.round.name"), href: "#/" },
    line: bedFacts(state, bed),
  })}
  ${withheld(state, { bed: bed.id })} ${warned(state, { bed: bed.id })}
  ${waiting(state, actions, bed)}
  ${waterAccount(state, bed.id)} ${watering(state, actions, bed.id)} ${doing(state, actions, bed.id)}
  ${
    standing.length
      ? html`<section class="stack" aria-labelledby="bed-plan">
          <h2 id="bed-plan">${state.say("screen.bed.plan")}</h2>
          ${selecting(state, actions, bed, standing, (chosen) =>
            chosen.plants?.length ? quickWork(state, actions, chosen) : nothing,
          )}
        </section>`
      : nothing
  }
  ${planted(state, bed.id, plantings)} ${soilTroubles(state, bed.id)}
  ${followers(state, bed.id)} ${toLookAt(state, actions, bed)}
  ${pictures(state, actions, state.look.events({ bed: bed.id, kind: "photo" }), {
    subjects: { bed: bed.id },
  })}
  ${written(state, actions, bed.id)}`;
}

/** @param {State} state @param {Actions} actions @param {string} bed */
const doing = (state, actions, bed) =>
  html`<section class="stack" aria-labelledby="bed-do">
    <h2 id="bed-do">${state.say("screen.bed.do")}</h2>
    ${quickWork(state, actions, { bed })}
    <div class="presses">
      ${QUICK.filter((kind) => state.look.kind(kind)).map((kind) =>
        pressLink(verbOf(state, kind), toRecord(kind, { bed }), "press-field"),
      )}
      ${pressLink(
        state.say("screen.scout_walk.title"),
        toScoutingWalkIn(bed),
        "press-field press-quiet",
      )}
      ${pressLink(state.say("action.could_be"), toCouldBe({ bed }), "press-field press-quiet")}
      ${pressLink(state.say("screen.evening.name"), toEvening({ bed }), "press-field press-quiet")}
      ${pressLink(
        state.say("action.write_other"),
        `#/record?bed=${encodeURIComponent(bed)}`,
        "press-field press-quiet",
      )}
    </div>
  </section>`;

/** @param {State} state @param {string} bed @param {Planting[]} plantings */
function planted(state, bed, plantings) {
  const now = plantings.filter((planting) => planting.until_day === undefined);
  const before = plantings
    .filter((planting) => planting.until_day !== undefined)
    .sort((a, b) => (b.until_day ?? 0) - (a.until_day ?? 0));
  return html`<section class="stack" aria-labelledby="bed-plantings">
    <h2 id="bed-plantings">${state.say("screen.bed.plantings")}</h2>
    ${plantingList(state, now)}
    ${
      before.length
        ? html`<details class="help">
            <summary>${state.say("screen.bed.before")}</summary>
            ${plantingList(state, before)}
          </details>`
        : nothing
    }
    <div class="row">
      ${pressLink(
        state.say("action.new_planting"),
        `#/new/planting?bed=${encodeURIComponent(bed)}`,
      )}
      ${pressLink(state.say("action.change_bed"), toRecord("bed", { bed }), "press-quiet")}
    </div>
  </section>`;
}

/** @param {State} state @param {Actions} actions @param {string} bed */
const written = (state, actions, bed) =>
  html`<section class="stack" aria-labelledby="bed-written">
    <h2 id="bed-written">${state.say("screen.bed.written")}</h2>
    ${lines(state, actions, state.look.events({ bed, limit: SHOWN_ENTRIES }), { where: false })}
    <p>
      <a class="text-press" href="#/log?bed=${encodeURIComponent(bed)}"
        >${state.say("action.all_entries")}</a
      >
    </p>
  </section>`;

/**
 * Work that is overdue, due or blocked.
 * @param {State} state
 * @param {Actions} actions
 * @param {Bed} bed
 */
function waiting(state, actions, bed) {
  // What withholds work here is told above, for picking and for hands.
  const here = findingsIn(state, bed, ["overdue", "due", "blocked"]).filter(
    (finding) => state.look.rule(finding.rule)?.shape !== "withhold",
  );
  return html`<section class="stack" aria-labelledby="bed-due">
    <h2 id="bed-due">${state.say("screen.bed.due")}</h2>
    ${
      here.length
        ? html`<ul class="work-list">
            ${repeat(
              here,
              (finding) => finding.key,
              (finding) => work(state, actions, finding),
            )}
          </ul>`
        : html`<p class="soft">${state.say("screen.round.no_work")}</p>`
    }
  </section>`;
}

/**
 * What comes up, is not known, or goes against a rule.
 * @param {State} state
 * @param {Actions} actions
 * @param {Bed} bed
 */
function toLookAt(state, actions, bed) {
  // What is in the soil has its own part of the page.
  const all = state.findings.filter(
    (finding) =>
      finding.subject.bed === bed.id && state.look.rule(finding.rule)?.shape !== "soil_spots",
  );
  const here = onceEach(all).filter(
    (finding) => LOOKED_AT.has(finding.state) && !isFigure(state, finding),
  );
  if (!here.length) return figures(state, actions, all);
  return html`<section class="stack" aria-labelledby="bed-look">
    <h2 id="bed-look">${state.say("screen.bed.look")}</h2>
    <ul class="work-list">
      ${repeat(
        here,
        (finding) => finding.key,
        (finding) => work(state, actions, finding, { full: true }),
      )}
    </ul>
    ${figures(state, actions, all)}
  </section>`;
}

/** @param {State} state @param {Bed} bed @param {string[]} states */
const findingsIn = (state, bed, states) =>
  state.findings.filter(
    (finding) => finding.subject.bed === bed.id && states.includes(finding.state),
  );

/** @param {State} state @param {Planting[]} plantings */
const plantingList = (state, plantings) =>
  plantings.length
    ? html`<ul class="go-list">
        ${plantings.map(
          (planting) =>
            html`<li>
              <a href=${toPlanting(planting.id)}>
                <span>${state.say("screen.who.planting", { planting: planting.id })}</span>
                <span class="soft small">${stage(state, planting)}</span></a
              >
            </li>`,
        )}
      </ul>`
    : html`<p class="soft">${state.say("screen.bed.none_planted")}</p>`;

/**
 * Where a planting stands in its life.
 * @param {State} state
 * @param {import("../types.js").Planting} planting
 */
function stage(state, planting) {
  const live = state.look.livePlants(planting).length;
  if (planting.until_day !== undefined)
    return state.say("screen.planting.ended", { until_day: planting.until_day });
  if (planting.from_day !== undefined)
    return state.say("screen.planting.stands", { from_day: planting.from_day, count: live });
  return planting.sown_day === undefined
    ? state.say("screen.planting.planned", { count: live })
    : state.say("screen.planting.sown", { sown_day: planting.sown_day, count: live });
}
