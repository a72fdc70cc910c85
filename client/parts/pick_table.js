// @ts-check
// Picks and what was thrown out, a line for each planting.
import { html } from "../vendor/lit-html/lit-html.js";
import { toPlanting } from "./paths.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("./tallies.js").Tally} Tally */

/** @param {State} state @param {Tally[]} tallies @param {string} name */
export const pickTable = (state, tallies, name) =>
  html`<div class="table-scroll" tabindex="0" role="group" aria-label=${name}>
    <table>
      <thead>
        <tr>
          <th scope="col">${state.say("screen.shed.planting")}</th>
          <th scope="col" class="figure">${state.say("screen.shed.fruit")}</th>
          <th scope="col" class="figure">${state.say("screen.shed.mass")}</th>
          <th scope="col" class="figure">${state.say("screen.shed.discarded")}</th>
          <th scope="col" class="figure">${state.say("screen.shed.last")}</th>
        </tr>
      </thead>
      <tbody>
        ${tallies.map((tally) => row(state, tally))}
      </tbody>
    </table>
  </div>`;

/** @param {State} state @param {Tally} tally */
const row = (state, { planting, count, mass, discarded, lastDay }) =>
  html`<tr>
    <th scope="row">
      <a href=${toPlanting(planting.id)}
        >${state.say("screen.who.planting", { planting: planting.id })}</a
      >
    </th>
    <td class="figure">${count || "–"}</td>
    <td class="figure">
      ${mass ? state.say("screen.shed.kilograms", { mass_value: mass / 1000 }) : "–"}
    </td>
    <td class="figure">${discarded || "–"}</td>
    <td class="figure">${state.say("screen.value.day", { at_day: lastDay })}</td>
  </tr>`;
