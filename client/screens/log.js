// @ts-check
// The whole log, newest first, by bed or planting and by kind, a page at a time.
import { MENDING_KINDS } from "../log/telling.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { lines } from "../parts/lines.js";
import { mendingLines } from "../parts/mending_lines.js";
import { pressLink } from "../parts/press.js";
import { verbOf, whereOf } from "../parts/telling.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

const PAGE = 40;

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const { bed, planting, kind, page = "1" } = state.route.query;
  const shown = Math.max(1, Math.trunc(Number(page)) || 1) * PAGE;
  const events = state.look.events({
    ...(bed ? { bed } : {}),
    ...(planting ? { planting } : {}),
    ...(kind ? { kind } : {}),
    limit: shown + 1,
  });
  const isMending = MENDING_KINDS.includes(kind);
  const mendings = isMending ? state.look.mendings().filter((one) => one.kind === kind) : [];
  const to = (/** @type {Record<string, string>} */ change) => address({ bed, planting, kind, ...change });
  return html`${title(state.say("screen.log.title"), planting ? { line: whereOf(state, { planting }) } : {})}
    <div class="log-filter">
      ${select(
        "log-bed",
        state.say("screen.log.bed"),
        bed ?? "",
        [
          ["", state.say("screen.log.all_beds")],
          ...state.beds.map(
            (one) =>
              /** @type {[string, string]} */ ([
                one.id,
                state.say("screen.who.bed", { bed: one.id }),
              ]),
          ),
        ],
        (value) => actions.go(to({ bed: value, planting: "" })),
      )}
      ${select(
        "log-kind",
        state.say("screen.log.kind"),
        kind ?? "",
        [
          ["", state.say("screen.log.all_kinds")],
          ...state.kinds
            .filter((one) => !one.structural)
            .map((one) => /** @type {[string, string]} */ ([one.name, verbOf(state, one.name)])),
        ],
        (value) => actions.go(to({ kind: value })),
      )}
    </div>
    ${
      isMending
        ? mendingLines(state, mendings.slice(0, shown))
        : lines(state, actions, events.slice(0, shown), { level: 2 })
    }
    ${
      Math.max(events.length, mendings.length) > shown
        ? pressLink(
            state.say("action.older"),
            to({ page: String(shown / PAGE + 1) }),
            "press-wide press-field",
          )
        : nothing
    }`;
}

/** @param {Record<string, string | undefined>} query */
function address(query) {
  const parts = Object.entries(query).flatMap(([name, value]) =>
    value ? [`${name}=${encodeURIComponent(value)}`] : [],
  );
  return parts.length ? `#/log?${parts.join("&")}` : "#/log";
}

/**
 * @param {string} id @param {string} label @param {string} value
 * @param {[string, string][]} choices @param {(value: string) => void} change
 */
const select = (id, label, value, choices, change) =>
  html`<div class="field">
    <label class="field-label" for=${id}>${label}</label>
    <select
      id=${id}
      class="text-input"
      @change=${(/** @type {Event} */ event) =>
        change(/** @type {HTMLSelectElement} */ (event.target).value)}
    >
      ${choices.map(
        ([choice, words]) =>
          html`<option value=${choice} ?selected=${choice === value}>${words}</option>`,
      )}
    </select>
  </div>`;
