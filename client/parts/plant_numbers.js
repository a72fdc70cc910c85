// @ts-check
// Plants as numbers to tap, with whole rows at one tap: the plan's selection without the plan.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { rowOf } from "../log/layout.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */

/**
 * The living plants of each row.
 * @param {State} state @param {Planting} planting @returns {Map<number, number[]>}
 */
export function rowsOf(state, planting) {
  /** @type {Map<number, number[]>} */
  const rows = new Map();
  for (const ordinal of state.look.livePlants(planting)) {
    const row = rowOf(ordinal, Number(planting.plants), Number(planting.rows) || 1);
    rows.set(row, [...(rows.get(row) ?? []), ordinal]);
  }
  return rows;
}

/**
 * Adds what is missing, or takes all of it away when none is.
 * @param {readonly number[]} chosen @param {readonly number[]} some
 */
export function toggled(chosen, some) {
  const all = some.every((ordinal) => chosen.includes(ordinal));
  const next = all
    ? chosen.filter((ordinal) => !some.includes(ordinal))
    : [...new Set([...chosen, ...some])];
  return next.sort((a, b) => a - b);
}

/**
 * @param {State} state @param {Planting} planting @param {number[]} chosen none: all of them
 * @param {(plants: number[]) => void} change
 */
export const plantNumbers = (state, planting, chosen, change) =>
  html`<div class="numbers" role="group" aria-label=${state.say("screen.form.plants")}>
    ${rowPresses(state, planting, chosen, change)} ${allBut(state, planting, chosen, change)}
    <div class="numbers-all">
      ${state.look
        .livePlants(planting)
        .map(
          (ordinal) =>
            html`<button
              type="button"
              class="press press-quiet number"
              aria-pressed=${chosen.includes(ordinal)}
              aria-label=${state.say("screen.form.plant", { number: ordinal })}
              @click=${() => change(toggled(chosen, [ordinal]))}
            >
              ${ordinal}
            </button>`,
        )}
    </div>
  </div>`;

/**
 * @param {State} state @param {Planting} planting @param {number[]} chosen
 * @param {(plants: number[]) => void} change
 */
function allBut(state, planting, chosen, change) {
  const rest = state.look.livePlants(planting).filter((one) => !chosen.includes(one));
  if (!chosen.length || !rest.length) return nothing;
  return html`<button type="button" class="press press-quiet" @click=${() => change(rest)}>
    ${state.say("screen.plan.all_but")}
  </button>`;
}

/**
 * "All", "Row 1", "Row 2".
 * @param {State} state @param {Planting} planting @param {number[]} chosen
 * @param {(plants: number[]) => void} change
 */
export function rowPresses(state, planting, chosen, change) {
  const rows = rowsOf(state, planting);
  const all = state.look.livePlants(planting);
  return html`<div class="row">
    <button
      type="button"
      class="press press-quiet"
      aria-pressed=${all.length > 0 && all.every((one) => chosen.includes(one))}
      @click=${() => change(toggled(chosen, all))}
    >
      ${state.say("screen.plan.all")}
    </button>
    ${
      rows.size < 2
        ? ""
        : [...rows].map(
            ([row, plants]) =>
              html`<button
                type="button"
                class="press press-quiet"
                aria-pressed=${plants.every((one) => chosen.includes(one))}
                @click=${() => change(toggled(chosen, plants))}
              >
                ${state.say("screen.plan.row", { row })}
              </button>`,
          )
    }
  </div>`;
}
