// @ts-check
// What can be printed: one page for each, and the way to them.
import { html } from "../vendor/lit-html/lit-html.js";
import { later } from "../parts/later.js";
import { toBedPaper, toTreatmentsPaper } from "../parts/paths.js";
import { lost, title } from "../parts/title.js";
import * as bed from "./paper_bed.js";
import * as round from "./paper_round.js";
import * as treatments from "./paper_treatments.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @type {Map<string, {view: (state: State, actions: Actions) => unknown}>} */
const PAGES = new Map(
  Object.entries({ bed, round, treatments, tags: later(() => import("./tags.js")) }),
);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  if (!state.route.id) return links(state);
  const page = PAGES.get(state.route.id);
  return page ? page.view(state, actions) : lost(state);
}

/** @param {State} state */
const links = (state) =>
  html`${title(state.say("screen.paper.title"), {
      from: { words: state.say("screen.shed.name"), href: "#/shed" },
      line: state.say("screen.paper.line"),
    })}
    <ul class="go-list">
      ${link("#/paper/round", state.say("screen.paper.round.title"), state.say("screen.paper.round.line"))}
      ${link(toTreatmentsPaper(), state.say("screen.paper.treat.title"), state.say("screen.paper.treat.line"))}
      ${link("#/review", state.say("screen.shed.review"), state.say("screen.paper.review_line"))}
      ${link("#/paper/tags", state.say("screen.tags.title"), state.say("screen.tags.line"))}
    </ul>
    <section class="stack" aria-labelledby="paper-beds">
      <h2 id="paper-beds">${state.say("screen.paper.bed.all")}</h2>
      <ul class="go-list">
        ${state.beds.map(({ id }) => link(toBedPaper(id), state.say("screen.who.bed", { bed: id })))}
      </ul>
    </section>`;

/** @param {string} href @param {string} words @param {string} [line] */
const link = (href, words, line = "") =>
  html`<li>
    <a href=${href}><span>${words}</span><span class="soft small">${line}</span></a>
  </li>`;
