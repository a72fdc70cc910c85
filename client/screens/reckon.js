// @ts-check
// A calculator for feeds: a rate or a measured amount in, grams, spoons and cups out. It writes
// nothing down, and works with no shed in reach.
import { AgronomyError } from "../agronomy/errors.js";
import { areaPerPlant } from "../agronomy/fertilizer.js";
import { box } from "../parts/choosing.js";
import { local } from "../parts/local.js";
import { toPlanting } from "../parts/paths.js";
import { stepper } from "../parts/stepper.js";
import { title } from "../parts/title.js";
import { reckonCompost, reckonFeed, UNITS } from "../rules/reckoning.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Planting} Planting */
/** @typedef {import("../rules/reckoning.js").Line} Line */
/** @typedef {Record<string, unknown> & {unit: string, material: string}} Held */
/** @typedef {(alter: (held: Held) => void) => void} Change */

/** @type {Record<string, {step: number, unit?: string, whole?: boolean}>} */
const FIELDS = {
  n_percent: { step: 1, unit: "%" },
  p_percent: { step: 1, unit: "%" },
  k_percent: { step: 1, unit: "%" },
  amount: { step: 1 },
  in_row_m: { step: 0.05, unit: "m" },
  between_rows_m: { step: 0.05, unit: "m" },
  area_m2: { step: 1, unit: "m²" },
  depth_mm: { step: 10, unit: "mm" },
};

/** @param {State} state */
export function view(state) {
  const planting = state.look.planting(state.route.query.planting ?? "");
  return html`${title(state.say("screen.reckon.title"), {
      from: planting
        ? {
            words: state.say("screen.who.planting", { planting: planting.id }),
            href: toPlanting(planting.id),
          }
        : { words: state.say("screen.round.name"), href: "#/" },
      line: state.say("screen.reckon.line"),
    })}
    ${local(
      `reckon ${planting?.id ?? ""}`,
      () => begun(state, planting),
      (held, change) => both(state, held, change),
    )}`;
}

/**
 * What the log knows of the planting's ground stands there already.
 * @param {State} state @param {Planting | undefined} planting @returns {Held}
 */
function begun(state, planting) {
  const bed = planting?.bed ? state.look.bed(planting.bed) : undefined;
  const { length_m: length, width_m: width } = bed ?? {};
  return {
    unit: "tablespoons_a_plant",
    material: "",
    amount: 0.25,
    in_row_m: planting?.in_row_m,
    between_rows_m: planting?.between_rows_m,
    area_m2: length && width ? Number((length * width).toFixed(2)) : undefined,
    depth_mm: 50,
  };
}

/** @param {State} state @param {Held} held @param {Change} change */
const both = (state, held, change) =>
  html`<section class="stack" aria-labelledby="reckon-feed">
      <h2 id="reckon-feed">${state.say("screen.reckon.feed")}</h2>
      ${["n_percent", "p_percent", "k_percent"].map((name) => figure(state, held, change, name))}
      ${choice(state, held, change, "unit", UNITS, (unit) =>
        state.say(`screen.reckon.unit.${unit}`),
      )}
      ${figure(state, held, change, "amount")}
      ${choice(state, held, change, "material", materialsOf(state), (material) =>
        state.say(material ? `choice.material.${material}` : "screen.reckon.no_material"),
      )}
      ${["in_row_m", "between_rows_m", "area_m2"].map((name) => figure(state, held, change, name))}
      ${answer(state, feedOf(state, held))}
    </section>
    <section class="stack" aria-labelledby="reckon-compost">
      <h2 id="reckon-compost">${state.say("screen.reckon.compost_part")}</h2>
      ${figure(state, held, change, "depth_mm")}
      ${answer(state, compostOf(held))}
    </section>`;

/** @param {State} state */
const materialsOf = (state) => [...Object.keys(state.rulebook.fertilizers ?? {}), ""];

/** @param {State} state @param {Held} held @param {Change} change @param {string} name */
function figure(state, held, change, name) {
  const id = `reckon-${name}`;
  const label = state.say(`screen.reckon.${name}`);
  const small = name === "amount" && held.unit === "tablespoons_a_plant" ? { step: 0.25 } : {};
  return html`<div class="field">
    <label class="field-label" for=${id}>${label}</label>
    ${stepper(state, {
      ...FIELDS[name],
      ...small,
      id,
      label,
      min: 0,
      value: held[name],
      change: (value) =>
        change((now) => {
          now[name] = value;
        }),
    })}
  </div>`;
}

/**
 * @param {State} state @param {Held} held @param {Change} change @param {"unit" | "material"} name
 * @param {string[]} choices @param {(choice: string) => string} said
 */
const choice = (state, held, change, name, choices, said) =>
  html`<fieldset class="field">
    <legend class="field-label">${state.say(`screen.reckon.${name}`)}</legend>
    <div class="boxes">
      ${choices.map((one, at) =>
        box("radio", `reckon-${name}-${at}`, `reckon-${name}`, said(one), held[name] === one, () =>
          change((now) => {
            now[name] = one;
          }),
        ),
      )}
    </div>
  </fieldset>`;

/** @param {State} state @param {Line[]} lines */
const answer = (state, lines) =>
  html`<div class="stack">
    <h3>${state.say("screen.reckon.answer")}</h3>
    <div role="status">
      <ul class="sums">
        ${lines.map(([key, values]) => html`<li>${state.say(`screen.reckon.${key}`, values)}</li>`)}
      </ul>
    </div>
    ${
      lines.some(([key]) => key === "spoons" || key === "cups" || key.endsWith("_between"))
        ? html`<p class="soft small">${state.say("screen.reckon.weights")}</p>`
        : nothing
    }
  </div>`;

/** @param {unknown} value */
const given = (value) => (typeof value === "number" && value > 0 ? value : null);

/** @param {() => Line[]} reckon @returns {Line[]} */
function soundly(reckon) {
  try {
    return reckon();
  } catch (error) {
    if (error instanceof AgronomyError) return [["no_sense", {}]];
    throw error;
  }
}

/** @param {State} state @param {Held} held */
const feedOf = (state, held) =>
  soundly(() => {
    const amount = given(held.amount);
    const n_percent = given(held.n_percent);
    if (n_percent === null) return [["no_grade", {}]];
    if (amount === null) return [["no_amount", {}]];
    const [inRow, between] = [given(held.in_row_m), given(held.between_rows_m)];
    return reckonFeed({
      n_percent,
      p_percent: given(held.p_percent) ?? 0,
      k_percent: given(held.k_percent) ?? 0,
      unit: held.unit,
      amount,
      ground_m2: inRow === null || between === null ? null : areaPerPlant(inRow, between),
      area_m2: given(held.area_m2),
      published: state.rulebook.fertilizers?.[held.material]?.published ?? [],
    });
  });

/** @param {Held} held */
const compostOf = (held) =>
  soundly(() => {
    const [area, depth] = [given(held.area_m2), given(held.depth_mm)];
    if (area === null) return [["no_area", {}]];
    return depth === null ? [["no_amount", {}]] : reckonCompost(area, depth);
  });
