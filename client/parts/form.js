// @ts-check
// A form for any kind of entry, drawn from the kind's description.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { field } from "./field.js";
import { formPictures, noneTaken } from "./form_pictures.js";
import { local } from "./local.js";
import { once } from "./press.js";
import { subjects } from "./subjects.js";
import { when } from "./when.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").KindDescription} KindDescription */
/** @typedef {import("../types.js").FieldDescription} FieldDescription */
/** @typedef {import("../types.js").Message} Message */
/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../types.js").Picture} Picture */
/**
 * @typedef {{subjects: Subjects, details: Details, happened_at?: string, pictures?: Picture[]}} Filled
 */
/** @typedef {(some: Details) => void} SetSome */
/**
 * @typedef {object} Filling what the person has filled in so far
 * @property {Details} details
 * @property {Subjects} subjects
 * @property {string | undefined} happenedAt undefined: now
 * @property {boolean} isChoosing
 * @property {boolean} isTried
 * @property {boolean} isOddAccepted
 * @property {import("./form_pictures.js").Taken} taken
 */
/**
 * @typedef {object} Form
 * @property {string} key a form with another key starts anew
 * @property {KindDescription} kind
 * @property {{subjects: Subjects, details: Details, happenedAt?: string}} start
 * @property {string} submitWords
 * @property {(filled: Filled) => Promise<unknown>} submit
 * @property {readonly string[]} [only] these fields and no others
 * @property {readonly string[]} [first] what is open, in place of the kind's own choice
 * @property {boolean} [hideSubjects]
 * @property {boolean} [hideWhen]
 * @property {{details: Details, words: string}[]} [again] what was written lately, one tap each
 * @property {boolean} [takesPictures] photos may be added, which the entry is written with
 * @property {boolean} [isMaking] what the entry is about is made by it
 * @property {(details: Details, subjects: Subjects, set: SetSome) => unknown} [besideFields]
 *   something that follows from what is filled in, and may fill in more
 */

/** @param {State} state @param {Actions} actions @param {Form} form */
export const entryForm = (state, actions, form) =>
  local(
    form.key,
    () => startOf(form),
    (held, change) => {
      const found = held.isTried
        ? actions.check(draftOf(form, held))
        : { problems: {}, remarks: {} };
      const set = (/** @type {(held: Filling) => void} */ alter) =>
        change((now) => {
          alter(now);
          now.isOddAccepted = false;
        });
      const wrong = (/** @type {string} */ path) =>
        /** @type {Message[]} */ ([
          ...(found.problems[path] ?? []),
          ...(found.remarks[path] ?? []),
        ]);
      return html`<form
        class="form"
        novalidate
        @submit=${(/** @type {Event} */ event) => event.preventDefault()}
      >
        ${
          form.hideSubjects
            ? nothing
            : subjects(state, form.kind, {
                subjects: held.subjects,
                wrong: ["subjects", "subjects.bed", "subjects.planting", "subjects.plants"].flatMap(
                  wrong,
                ),
                isOpen: held.isChoosing,
                isMaking: form.isMaking ?? false,
                open: () =>
                  change((now) => {
                    now.isChoosing = !now.isChoosing;
                  }),
                change: (next) =>
                  set((now) => {
                    now.subjects = next;
                  }),
              })
        }
        ${
          form.again?.length
            ? html`<div class="presses presses-words">
                ${form.again.map(
                  ({ details, words }) =>
                    html`<button
                      type="button"
                      class="press"
                      @click=${() =>
                        set((now) => {
                          now.details = { ...now.details, ...details };
                        })}
                    >
                      ${words}
                    </button>`,
                )}
              </div>`
            : nothing
        }
        ${fields(state, form, held, set, wrong)}
        ${
          form.besideFields?.(held.details, held.subjects, (some) =>
            set((now) => {
              Object.assign(now.details, some);
            }),
          ) ?? nothing
        }
        ${
          form.hideWhen
            ? nothing
            : when(state, held.happenedAt, wrong("happened_at"), (at) =>
                set((now) => {
                  now.happenedAt = at;
                }),
              )
        }
        ${
          form.takesPictures
            ? formPictures(state, actions, held.taken, (alter) =>
                change((now) => {
                  alter(now.taken);
                }),
              )
            : nothing
        }
        ${ending(state, actions, form, held, change, found)}
      </form>`;
    },
  );

/** @param {Form} form @returns {Filling} */
const startOf = ({ kind, start, isMaking }) => ({
  details: { ...start.details },
  subjects: start.subjects,
  happenedAt: start.happenedAt,
  isChoosing: isMaking ? !start.subjects.bed : isSubjectMissing(kind, start.subjects),
  isTried: false,
  isOddAccepted: false,
  taken: noneTaken(),
});

/** @param {KindDescription} kind @param {Subjects} given */
const isSubjectMissing = (kind, given) =>
  (kind.subjects.bed === "required" && !given.bed) ||
  (kind.subjects.planting === "required" && !given.planting) ||
  (kind.subjects.plants === "required" && !given.plants?.length) ||
  (kind.subjects.place === "required" && !given.bed && !given.planting);

// What is being made has no id before it is written; the check wants one.
const UNMADE = "00000000-0000-7000-8000-000000000000";

/** @param {Form} form @param {Filling} held */
const draftOf = (form, held) => ({
  kind: form.kind.name,
  details: held.details,
  subjects:
    form.isMaking && form.kind.name !== "setting"
      ? { ...held.subjects, [form.kind.name]: UNMADE }
      : held.subjects,
  ...(held.happenedAt ? { happened_at: held.happenedAt } : {}),
});

/**
 * The fields that matter first are open, the rest behind "More to write down".
 * @param {State} state @param {Form} form @param {Filling} held
 * @param {(alter: (held: Filling) => void) => void} set @param {(path: string) => Message[]} wrong
 */
function fields(state, { kind, only, first }, held, set, wrong) {
  const asked = kind.fields.filter(
    (about) => about.type !== "map" && (!only || only.includes(about.name)),
  );
  const isFirst = firstFields(asked, first);
  const one = (/** @type {FieldDescription} */ about) =>
    field(state, {
      kind: kind.name,
      field: about,
      value: held.details[about.name],
      wrong: wrong(`details.${about.name}`),
      change: (value) => set((now) => setDetail(now, about.name, value)),
    });
  const rest = asked.filter((about) => !isFirst(about));
  const isRestOpen = rest.some(
    (about) => held.details[about.name] !== undefined || wrong(`details.${about.name}`).length,
  );
  return html`${asked.filter(isFirst).map(one)}
  ${["details", "_schema"]
    .flatMap(wrong)
    .map((message) => html`<p class="field-wrong">${state.say(message.key, message.values)}</p>`)}
  ${
    rest.length
      ? html`<details class="form-rest" ?open=${isRestOpen}>
          <summary>${state.say("screen.form.rest")}</summary>
          <div class="form-rest-fields">${rest.map(one)}</div>
        </details>`
      : nothing
  }`;
}

/** @param {Filling} now @param {string} name @param {unknown} value */
function setDetail(now, name, value) {
  if (value === undefined) delete now.details[name];
  else now.details[name] = value;
}

/** @param {FieldDescription[]} asked @param {readonly string[] | undefined} first */
function firstFields(asked, first) {
  if (first) return (/** @type {FieldDescription} */ about) => first.includes(about.name);
  if (!asked.some((about) => about.primary)) return () => true;
  return (/** @type {FieldDescription} */ about) => Boolean(about.primary || about.required);
}

/**
 * What is odd, and the button that writes it down.
 * @param {State} state @param {Actions} actions @param {Form} form @param {Filling} held
 * @param {(alter: (held: Filling) => void) => void} change
 * @param {{problems: Record<string, Message[]>, remarks: Record<string, Message[]>}} found
 */
function ending(state, actions, form, held, change, found) {
  const isWrong = Object.keys(found.problems).length > 0;
  const isOdd = !isWrong && Object.keys(found.remarks).length > 0;
  const submit = async (/** @type {Event} */ event) => {
    const element = /** @type {HTMLElement} */ (event.currentTarget).closest("form");
    change((now) => {
      now.isTried = true;
    });
    const { problems, remarks } = actions.check(draftOf(form, held));
    const mayGo =
      !Object.keys(problems).length && (held.isOddAccepted || !Object.keys(remarks).length);
    if (!mayGo) {
      change((now) => {
        now.isOddAccepted = !Object.keys(problems).length;
      });
      showWrong(element);
      return;
    }
    await Promise.allSettled([held.taken.shrinking]);
    const { pictures } = held.taken;
    await form.submit({
      subjects: held.subjects,
      details: held.details,
      ...(held.happenedAt ? { happened_at: held.happenedAt } : {}),
      ...(pictures.length ? { pictures } : {}),
    });
  };
  return html`<div class="form-end" aria-live="polite">
    ${isWrong ? html`<p class="field-wrong">${state.say("screen.form.wrong")}</p>` : nothing}
    ${isOdd ? html`<p class="form-odd">${state.say("screen.form.odd")}</p>` : nothing}
    <button
      type="submit"
      class="press press-ink press-field press-wide"
      @click=${(/** @type {Event} */ event) => once(() => submit(event))(event)}
    >
      ${isOdd ? state.say("screen.form.anyway") : form.submitWords}
    </button>
  </div>`;
}

/**
 * Takes the eye and the keyboard to the first thing that is wrong.
 * @param {HTMLElement | null} element
 */
function showWrong(element) {
  requestAnimationFrame(() => {
    const place = element?.querySelector(".is-wrong");
    const rest = place?.closest("details");
    if (rest) rest.open = true;
    const input = place?.querySelector("input, select, textarea, button");
    if (input instanceof HTMLElement) input.focus();
    place?.scrollIntoView({ block: "center" });
  });
}
