// @ts-check
// Entries that the shed did not take as they are: why, field by field, and how to mend them.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { facts } from "../parts/facts.js";
import { toRecord } from "../parts/paths.js";
import { press, pressLink } from "../parts/press.js";
import { refusedPhotos } from "../parts/refused_photos.js";
import { doneOf, labelOf, whereOf } from "../parts/telling.js";
import { title } from "../parts/title.js";
import { instantOf } from "../parts/wall_clock.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Attention} Attention */
/** @typedef {import("../types.js").Entry} Entry */

/** @param {State} state @param {Actions} actions */
export const view = (state, actions) =>
  html`${title(state.say("screen.attention.title"), {
    from: { words: state.say("screen.phone.name"), href: "#/phone" },
    line: state.say("screen.attention.line"),
  })}
  ${refusedPhotos(state, actions)}
  ${
    state.attention.length + state.faulty.length
      ? html`<ul class="stack-wide">
          ${repeat(
            state.faulty,
            (entry) => entry.id,
            (entry) => faulty(state, actions, entry),
          )}
          ${repeat(
            state.attention,
            (item) => item.id,
            (item) => one(state, actions, item),
          )}
        </ul>`
      : state.refusedPhotos.length
        ? nothing
        : html`<p>${state.say("screen.attention.none")}</p>`
  }`;

/**
 * Whatever it holds, it is shown as it lies in the store.
 * @param {State} state @param {Actions} actions @param {Entry} entry
 */
const faulty = (state, actions, entry) =>
  html`<li class="stack marked marked-overdue">
    <h2>${doneOf(state, String(entry.kind))}</h2>
    <p class="state-words">${state.say("screen.attention.faulty")}</p>
    ${asWritten(state, entry)}
    <div class="presses">
      ${press(state.say("action.export_entry"), () => actions.exportEntry(entry.id), "press-field")}
    </div>
  </li>`;

/** @param {State} state @param {Entry} entry */
const asWritten = (state, entry) =>
  html`<details class="help">
    <summary>${state.say("screen.attention.show")}</summary>
    <p class="small">${JSON.stringify(entry)}</p>
  </details>`;

/** @param {State} state @param {Actions} actions @param {Attention} item */
function one(state, actions, item) {
  const { entry } = item;
  const isOut =
    item.result === "set_aside" || item.result === "refused" || item.result === "failed";
  return html`<li class="stack marked ${isOut ? "marked-overdue" : "marked-flagged"}">
    <h2>${doneOf(state, entry.kind)}</h2>
    <p class="soft">${where(state, entry)}, ${when(state, entry.happened_at)}</p>
    <p class="state-words">
      ${state.say(item.mended_by ? "screen.attention.mended" : `screen.attention.${item.result}`)}
    </p>
    ${reasons(state, actions, entry, item.problems)}${reasons(state, actions, entry, item.remarks)}
    ${item.hint ? html`<p>${item.hint}</p>` : nothing}
    ${shown(state, entry)}
    <div class="presses">
      ${
        isOut && !item.mended_by && state.look.kind(entry.kind)
          ? pressLink(
              state.say("action.mend"),
              toRecord(entry.kind, {}, { mends: item.id }),
              "press-ink press-field",
            )
          : nothing
      }
      ${press(state.say("action.export_entry"), () => actions.exportEntry(item.id), "press-field")}
      ${
        !isOut || item.mended_by
          ? press(state.say("action.put_away"), () => actions.dismiss(item.id), "press-field")
          : nothing
      }
    </div>
  </li>`;
}

/**
 * What the shed could not read may be no place or no details at all.
 * @param {State} state
 * @param {Entry} entry
 */
function where(state, entry) {
  try {
    return whereOf(state, entry.subjects);
  } catch {
    return JSON.stringify(entry.subjects);
  }
}

/** @param {State} state @param {Entry} entry */
function shown(state, entry) {
  try {
    return html`<details class="help">
      <summary>${state.say("screen.attention.show")}</summary>
      ${facts(state, entry.kind, entry.details)}
    </details>`;
  } catch {
    return asWritten(state, entry);
  }
}

/**
 * An entry may be here because its moment can't be read.
 * @param {State} state
 * @param {string} text
 */
function when(state, text) {
  try {
    return state.say("screen.value.moment", { at_instant: instantOf(text) });
  } catch {
    return text;
  }
}

/**
 * The shed says its reasons in English; where this phone's own check finds fault with the same
 * field, that is said in the person's language.
 * @param {State} state @param {Actions} actions @param {Entry} entry
 * @param {Record<string, string[]> | undefined} found
 */
function reasons(state, actions, entry, found) {
  if (!found || !Object.keys(found).length) return nothing;
  const own = ownReasons(actions, entry);
  return html`<dl class="facts">
    ${Object.entries(found).map(
      ([path, texts]) =>
        html` <dt>${nameOf(state, entry.kind, path)}</dt>
          <dd>
            ${(own[path]?.map(({ key, values }) => state.say(key, values)) ?? texts).join(" ")}
          </dd>`,
    )}
  </dl>`;
}

/**
 * What may be of no kind that is known here, or hold nothing that can be checked.
 * @param {Actions} actions @param {Entry} entry
 * @returns {Record<string, import("../types.js").Message[]>}
 */
function ownReasons(actions, { kind, subjects, details }) {
  try {
    const { problems, remarks } = actions.check({ kind, subjects, details });
    return { ...remarks, ...problems };
  } catch {
    return {};
  }
}

/** @param {State} state @param {string} kind @param {string} path */
function nameOf(state, kind, path) {
  const [place, name] = path.split(".", 2);
  if (place === "details" && name) return labelOf(state, kind, name);
  return state.sayIf(`screen.attention.path_${name ?? place}`) ?? path;
}
