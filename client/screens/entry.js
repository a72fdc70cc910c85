// @ts-check
// One entry: what it says, who wrote it, what became of it, and how to put it right.
import { writtenOrHeld } from "../garden/not_saved.js";
import { isLeadsToChange } from "../garden/permission.js";
import { MENDING_KINDS } from "../log/telling.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { facts } from "../parts/facts.js";
import { mendingLines } from "../parts/mending_lines.js";
import { toRecord } from "../parts/paths.js";
import { photosShowing, pictures } from "../parts/pictures.js";
import { press, pressLink } from "../parts/press.js";
import { doneOf, whereOf, writerOf } from "../parts/telling.js";
import { lost, title } from "../parts/title.js";
import { instantOf } from "../parts/wall_clock.js";
import { view as photoView } from "./photo.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Entry} Entry */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const entry = state.look.entry(state.route.id);
  if (!entry) return lost(state);
  if (entry.kind === "photo") return photoView(state, actions);
  if (MENDING_KINDS.includes(entry.kind)) return aboutAnother(state, entry);
  const kind = state.look.kind(entry.kind);
  const told = state.look.event(entry.id);
  // A treatment that was taken back stays known, since its label's days may still be running.
  const event = told?.lifted ? undefined : told;
  const mendings = state.look.mendings(entry.id);
  const isPlace = kind?.structural ?? false;
  const mayChange = !isLeadsToChange(state.session, entry, state.look);
  const details = event?.details ?? entry.details;
  return html`${title(doneOf(state, entry.kind), {
      from: { words: state.say("screen.log.name"), href: "#/log" },
      line: whereOf(
        state,
        event ? { bed: event.bed, planting: event.planting, plants: event.plants } : entry.subjects,
      ),
    })}
    ${
      !event && !isPlace && kind
        ? html`<p class="band band-unknown">
            <span class="band-words">${state.say("screen.entry.taken_back")}</span>
          </p>`
        : nothing
    }
    ${kind ? nothing : html`<p class="form-odd">${state.say("screen.entry.not_known")}</p>`}
    ${facts(state, entry.kind, details)}
    ${
      event
        ? pictures(state, actions, photosShowing(state, entry.id), {
            subjects: { bed: event.bed, planting: event.planting, plants: event.plants },
            shows: entry.id,
          })
        : nothing
    }
    <section class="stack" aria-labelledby="entry-written">
      <h2 id="entry-written">${state.say("screen.entry.written")}</h2>
      ${written(state, entry, event?.instant)}
      ${mendings.length ? mendingLines(state, mendings, { linked: false }) : nothing}
    </section>
    ${mayChange ? nothing : html`<p>${state.say("notice.ask_lead")}</p>`}
    ${
      !event && !isPlace && kind && mayChange
        ? html`<div class="presses">
            ${press(
              state.say("action.put_back"),
              () => actions.restore(entry.id),
              "press-field",
            )}
          </div>`
        : nothing
    }
    ${
      isPlace || !event || !mayChange
        ? nothing
        : html`<div class="presses presses-two">
            ${pressLink(
              state.say("action.correct"),
              toRecord(entry.kind, {}, { correct: entry.id }),
              "press-field",
            )}
            ${press(
              state.say("action.take_back"),
              async () => {
                await writtenOrHeld(actions.undo(entry.id));
                actions.go("#/log");
              },
              "press-field",
            )}
          </div>`
    }`;
}

/** @param {State} state @param {Entry} entry @param {number | undefined} happened */
const written = (state, entry, happened) =>
  html`<dl class="facts">
    <dt>${state.say("screen.entry.happened")}</dt>
    <dd>
      ${state.say("screen.value.moment", { at_instant: happened ?? instantOf(entry.happened_at) })}
    </dd>
    <dt>${state.say("screen.entry.recorded")}</dt>
    <dd>${state.say("screen.value.moment", { at_instant: instantOf(entry.recorded_at) })}</dd>
    <dt>${state.say("screen.entry.by")}</dt>
    <dd>${writerOf(state, entry)}</dd>
    <dt>${state.say("screen.entry.shed")}</dt>
    <dd>
      ${state.say(state.look.isWaiting(entry.id) ? "screen.entry.waits" : "screen.entry.arrived")}
    </dd>
  </dl>`;

/** @param {State} state @param {Entry} entry */
const aboutAnother = (state, entry) =>
  html`${title(doneOf(state, entry.kind), {
      from: { words: state.say("screen.log.name"), href: "#/log" },
    })}
    ${written(state, entry, undefined)}
    <p>
      ${pressLink(
        state.say("screen.entry.root"),
        `#/entry/${encodeURIComponent(String(entry.details.entry))}`,
      )}
    </p>`;
