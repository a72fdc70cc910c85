// @ts-check
// One field of a form, drawn from its description; a new kind of entry needs nothing here.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import {
  chooseBeds,
  chooseFlag,
  chooseFromList,
  chooseOne,
  isLong,
  monthDay,
  textOf,
} from "./choosing.js";
import { chooseOrganism, chooseTrouble } from "./named_field.js";
import { stepper } from "./stepper.js";
import { labelOf } from "./telling.js";
import { momentAt, wallOf } from "./wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").FieldDescription} FieldDescription */
/** @typedef {import("../types.js").Message} Message */
/**
 * @typedef {object} Filled
 * @property {string} kind
 * @property {FieldDescription} field
 * @property {unknown} value
 * @property {Message[]} wrong
 * @property {(value: unknown) => void} change
 */

/** @param {State} state @param {Filled} filled */
export function field(state, filled) {
  const { kind, field: about, wrong } = filled;
  const id = `field-${about.name}`;
  const label = labelOf(state, kind, about.name);
  const errors = html`<p class="field-wrong" id="${id}-wrong">
    ${wrong.map((message) => html`<span>${state.say(message.key, message.values)}</span>`)}
  </p>`;
  const hint = about.required
    ? html`<span class="field-must">${state.say("screen.form.must")}</span>`
    : nothing;
  const input = control(state, { ...filled, id, label });
  if (isGroup(about))
    return html`<fieldset
      class="field ${wrong.length ? "is-wrong" : ""}"
      aria-describedby=${wrong.length ? `${id}-wrong` : nothing}
    >
      <legend class="field-label">${label} ${hint}</legend>
      ${input}${wrong.length ? errors : nothing}
    </fieldset>`;
  return html`<div class="field ${wrong.length ? "is-wrong" : ""}">
    <label class="field-label" for=${id}>${label} ${hint}</label
    >${input}${wrong.length ? errors : nothing}
  </div>`;
}

/** @param {FieldDescription} about */
const isGroup = (about) =>
  about.type === "boolean" ||
  about.type === "id_list" ||
  (about.type === "choice" && !isLong(about));

/** @typedef {Filled & {id: string, label: string}} Drawn */

/** @param {State} state @param {Drawn} filled @returns {unknown} */
function control(state, filled) {
  const { field: about, value, id, change, wrong } = filled;
  const describedBy = wrong.length ? `${id}-wrong` : undefined;
  switch (about.type) {
    case "number":
    case "integer":
      return numberField(state, filled, describedBy);
    case "choice":
      return isLong(about) ? chooseFromList(state, filled) : chooseOne(state, filled);
    case "boolean":
      return chooseFlag(state, filled);
    case "id_list":
      return chooseBeds(state, filled);
    case "date":
      return plain(
        "date",
        String(value ?? ""),
        (text) => change(text || undefined),
        id,
        describedBy,
      );
    case "moment":
      return plain(
        "datetime-local",
        wallOf(state.zone, value),
        (wall) => change(momentAt(state.zone, wall)),
        id,
        describedBy,
      );
    case "long_text":
      return longText(filled, describedBy);
    case "name_list":
    case "text_list":
      return textList(filled, describedBy);
    case "number_list":
      return numberList(filled, describedBy);
    case "month_day":
      return monthDay(state, String(value ?? ""), change, id, describedBy);
    default:
      if (about.name === "trouble") return chooseTrouble(state, filled, describedBy);
      if (about.name === "organism") return chooseOrganism(state, filled, describedBy);
      return about.name === "crop"
        ? chooseFromList(state, filled)
        : html` ${plain(
            "text",
            String(value ?? ""),
            (text) => change(text || undefined),
            id,
            describedBy,
          )}
          ${lately(state, filled)}`;
  }
}

/** @param {State} state @param {Drawn} drawn @param {string | undefined} describedBy */
function numberField(state, { field: about, value, id, label, change }, describedBy) {
  return stepper(state, {
    id,
    label,
    value,
    change,
    describedBy,
    step: about.step ?? 1,
    min: about.min,
    whole: about.type === "integer",
    unit: about.unit,
    invalid: describedBy !== undefined,
  });
}

/** @param {Drawn} drawn @param {string | undefined} describedBy */
const longText = ({ value, id, change }, describedBy) =>
  html`<textarea
    id=${id}
    rows="4"
    class="text-input"
    .value=${String(value ?? "")}
    aria-describedby=${describedBy ?? nothing}
    aria-invalid=${describedBy ? "true" : nothing}
    @input=${(/** @type {Event} */ event) => change(textOf(event) || undefined)}
  ></textarea>`;

/** @param {Drawn} drawn @param {string | undefined} describedBy */
function textList({ value, id, change }, describedBy) {
  const text = Array.isArray(value) ? value.join(", ") : "";
  const split = (/** @type {string} */ typed) => {
    const parts = typed
      .split(",")
      .map((part) => part.trim())
      .filter(Boolean);
    change(parts.length ? parts : undefined);
  };
  return plain("text", text, split, id, describedBy, "change");
}

/**
 * Figures as they are read off one after another, with spaces or line breaks between them.
 * @param {Drawn} drawn @param {string | undefined} describedBy
 */
function numberList({ value, id, change }, describedBy) {
  const text = Array.isArray(value) ? value.join("  ") : String(value ?? "");
  const split = (/** @type {string} */ typed) => {
    const parts = typed.split(/[\s;]+/).filter(Boolean);
    const numbers = parts.map((part) => Number(part.replace(",", ".")));
    change(parts.length ? (numbers.every(Number.isFinite) ? numbers : typed) : undefined);
  };
  return plain("text", text, split, id, describedBy, "change");
}

/**
 * Words written here before, one tap each, so that the keyboard is seldom needed.
 * @param {State} state @param {Filled & {label: string}} filled
 */
function lately(state, { kind, field: about, value, label, change }) {
  const events = state.look.events({ kind, limit: 40 });
  const texts = [...new Set(events.map((event) => event.details[about.name]))]
    .filter((text) => typeof text === "string" && text !== "" && text !== value)
    .slice(0, 4);
  return texts.length
    ? html`<div class="row" role="group" aria-label=${state.say("screen.form.lately", { label })}>
        ${texts.map(
          (text) =>
            html`<button type="button" class="press press-quiet" @click=${() => change(text)}>
              ${text}
            </button>`,
        )}
      </div>`
    : nothing;
}

/**
 * @param {string} type @param {string} value @param {(text: string) => void} change
 * @param {string} id @param {string | undefined} describedBy @param {"input" | "change"} [when]
 */
const plain = (type, value, change, id, describedBy, when = "input") =>
  html`<input
    id=${id}
    type=${type}
    class="text-input"
    autocomplete="off"
    .value=${value}
    aria-describedby=${describedBy ?? nothing}
    aria-invalid=${describedBy ? "true" : nothing}
    @input=${(/** @type {Event} */ event) => when === "input" && change(textOf(event))}
    @change=${(/** @type {Event} */ event) => when === "change" && change(textOf(event))}
  />`;
