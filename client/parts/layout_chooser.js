// @ts-check
// How many plants fit the bed at the spacing that was given, and one tap to take that number.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { OutOfRange } from "../agronomy/errors.js";
import { plantsInBed } from "../agronomy/spacing.js";
import { local } from "./local.js";
import { stepper } from "./stepper.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").Subjects} Subjects */

/**
 * @param {State} state @param {Details} details @param {Subjects} subjects
 * @param {(some: Details) => void} set
 */
export function layoutChooser(state, details, subjects, set) {
  const bed = subjects.bed ? state.look.bed(subjects.bed) : undefined;
  const { length_m: length, width_m: width, edge_m: wanted } = bed ?? {};
  if (!length || !width) return nothing;
  const [inRow, between] = [details.in_row_m, details.between_rows_m];
  if (typeof inRow !== "number" || typeof between !== "number" || inRow <= 0 || between <= 0)
    return html`<p class="soft">${state.say("screen.layout.ask")}</p>`;
  const pattern = details.pattern === "staggered" ? "staggered" : "square";
  // Plants stand half a spacing from the edge unless the bed or the grower says otherwise.
  const usual = typeof wanted === "number" ? wanted : Math.min(inRow, between) / 2;
  return local(
    "layout",
    () => ({ edge: /** @type {number | string | undefined} */ (undefined) }),
    (held, change) => {
      const edge = typeof held.edge === "number" ? held.edge : usual;
      const fit = fitting(() => plantsInBed(length, width, inRow, between, edge, pattern));
      return html`<section class="chosen" aria-labelledby="layout">
        <h2 id="layout">${state.say("screen.layout.title")}</h2>
        <label class="field-label" for="layout-edge">${state.say("screen.layout.edge")}</label>
        ${stepper(state, {
          id: "layout-edge",
          label: state.say("screen.layout.edge"),
          value: held.edge ?? edge,
          step: 0.05,
          min: 0,
          unit: "m",
          change: (value) =>
            change((now) => {
              now.edge = value;
            }),
        })}
        <p class="chosen-words" aria-live="polite">${state.say(
            fit.is_even ? "screen.layout.fit" : "screen.layout.fit_staggered",
            fit,
          )}</p>
        ${
          fit.count
            ? html`<button
                type="button"
                class="press press-field"
                @click=${() => set({ plants: fit.count, rows: fit.rows })}
              >
                ${state.say("screen.layout.take", { count: fit.count })}
              </button>`
            : nothing
        }
      </section>`;
    },
  );
}

/**
 * Nothing fits at sizes that no bed has.
 * @param {() => import("../agronomy/spacing.js").BedPlan} plan
 */
function fitting(plan) {
  try {
    const { plants: count, rows, per_row: perRow } = plan();
    const most = perRow[0] ?? 0;
    const least = perRow[1] ?? most;
    return { count, rows, per_row: most, least, is_even: most === least };
  } catch (error) {
    if (error instanceof OutOfRange) {
      return { count: 0, rows: 0, per_row: 0, least: 0, is_even: true };
    }
    throw error;
  }
}
