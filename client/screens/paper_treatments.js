// @ts-check
// The treatment record on paper: of each treatment what record-keeping rules ask for, and what of it
// is not written down.
import { civilDate, dayNumber, dayText, parseDay } from "../log/moment.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { textOf } from "../parts/choosing.js";
import { paperHead } from "../parts/paper_head.js";
import { toTreatmentsPaper } from "../parts/paths.js";
import { choiceOf, labelOf, valueOf, whereOf, writerOf } from "../parts/telling.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").LoggedEvent} LoggedEvent */
/** @typedef {{from: number, until: number}} Days both are in it */

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const days = daysOf(state);
  const told = state.look
    .events({ kind: "treat" })
    .filter(({ day }) => days.from <= day && day <= days.until)
    .reverse();
  return html`${paperHead(state, state.say("screen.paper.treat.title"), {
      line: state.say("screen.paper.treat.days", { from_day: days.from, until_day: days.until }),
      note: html`${state.say("screen.paper.treat.rules")} ${state.say("caution.label")}`,
    })}
    ${chooseDays(state, actions, days)}
    ${
      told.length
        ? told.map((event) => one(state, event))
        : html`<p>${state.say("screen.paper.treat.none")}</p>`
    }
    <p class="paper-sign">${state.say("screen.paper.treat.sign")}</p>`;
}

/** This year until today, unless the address says otherwise. @param {State} state @returns {Days} */
function daysOf(state) {
  const { from, until } = state.route.query;
  const [year] = civilDate(state.today);
  return { from: dayOf(from) ?? dayNumber(year, 1, 1), until: dayOf(until) ?? state.today };
}

/** @param {string | undefined} text */
function dayOf(text) {
  try {
    return text === undefined ? undefined : parseDay(text);
  } catch {
    return undefined;
  }
}

/** @param {State} state @param {Actions} actions @param {Days} days */
function chooseDays(state, actions, days) {
  const day = (/** @type {"from" | "until"} */ name) => {
    const change = (/** @type {Event} */ event) => {
      const chosen = dayOf(textOf(event));
      if (chosen === undefined) return;
      const next = { ...days, [name]: chosen };
      actions.go(toTreatmentsPaper(dayText(next.from), dayText(next.until)));
    };
    return html`<div class="field">
      <label class="field-label" for="paper-${name}">${state.say(`screen.paper.treat.${name}`)}</label>
      <input
        class="text-input"
        type="date"
        id="paper-${name}"
        .value=${dayText(days[name])}
        @change=${change}
      />
    </div>`;
  };
  return html`<div class="log-filter screen-only">${day("from")}${day("until")}</div>`;
}

/** @param {State} state @param {LoggedEvent} event */
function one(state, event) {
  const { details } = event;
  const value = (/** @type {string} */ name) => fieldValue(state, name, details[name]);
  const label = (/** @type {string} */ name) => labelOf(state, "treat", name);
  const say = (/** @type {string} */ name) => state.say(`screen.paper.treat.${name}`);
  const untils = state.look.labelWaits(event);
  const wait = (/** @type {string} */ field) => untils.find((one) => one.field === field)?.until;
  const done = { at_instant: event.instant };
  const rows = [
    [label("product"), value("product") ?? wayOf(state, event), say("amount"), amountOf(state, event)],
    [label("registration_number"), value("registration_number"), label("area_m2"), value("area_m2")],
    [label("active_ingredient"), value("active_ingredient"), label("target"), value("target")],
    [say("where"), whereOf(state, event), label("operator"), value("operator")],
    [label("started_at"), value("started_at"), label("ended_at"),
      value("ended_at") ?? state.say("screen.paper.treat.written_at", done)],
    [label("days_to_harvest"), value("days_to_harvest"), say("no_picking"),
      untilOf(state, wait("days_to_harvest"))],
    [label("hours_to_reentry"), value("hours_to_reentry"), say("stay_out"),
      untilOf(state, wait("hours_to_reentry"))],
  ];
  return html`<table class="treated">
    <caption>
      ${state.say("screen.value.day", { at_day: event.day })}:
      ${value("product") ?? wayOf(state, event)}
    </caption>
    <tbody>
      ${rows.map(
        ([first, told, second, also]) =>
          html`<tr>
            <th scope="row">${first}</th>
            <td>${told ?? missing(state)}</td>
            <th scope="row">${second}</th>
            <td>${also ?? missing(state)}</td>
          </tr>`,
      )}
      <tr>
        <th scope="row">${say("written_by")}</th>
        <td colspan="3">
          ${event.person ? writerOf(state, event) : missing(state)}${lifted(state, event)}
        </td>
      </tr>
    </tbody>
  </table>`;
}

/** @param {State} state */
const missing = (state) => html`<em>${state.say("screen.paper.treat.missing")}</em>`;

/** @param {State} state @param {LoggedEvent} event */
const lifted = (state, { lifted: by }) =>
  by
    ? html`; ${state.say("screen.lines.lifted", { person: by.person, at_instant: by.instant })}`
    : nothing;

/** @param {State} state @param {string} name @param {unknown} value */
function fieldValue(state, name, value) {
  if (value === undefined || value === null) return undefined;
  const field = state.look.kind("treat")?.fields.find((one) => one.name === name);
  return valueOf(state, "treat", field, value);
}

/** Without a product, how it was done. @param {State} state @param {LoggedEvent} event */
function wayOf(state, { details }) {
  const told = ["method", "mixture"].filter((name) => typeof details[name] === "string");
  return told.map((name) => choiceOf(state, "treat", name, String(details[name]))).join(", ");
}

/** @param {State} state @param {LoggedEvent} event */
function amountOf(state, { details: { total_amount: amount, total_unit: unit } }) {
  return amount === undefined || amount === null
    ? undefined
    : state.say("screen.value.amount", { amount, unit });
}

/** @param {State} state @param {number | null | undefined} until */
const untilOf = (state, until) =>
  until === undefined || until === null
    ? state.say("screen.paper.treat.not_known")
    : state.say("screen.value.moment", { at_instant: until });
