// @ts-check
// A finding opened to its reasoning: what, the arithmetic, the entries, the source, and a way out.
import { isLeadsToDecide } from "../garden/permission.js";
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { local } from "../parts/local.js";
import { toEntry, toSubject } from "../parts/paths.js";
import { press } from "../parts/press.js";
import { doneOf, gist, messageOf, titleOf, verbOf, whenOf, whereOf } from "../parts/telling.js";
import { title } from "../parts/title.js";
import { instantOf } from "../parts/wall_clock.js";
import { settleButton } from "../parts/work.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Rule} Rule */

const DECLINABLE = new Set(["due", "overdue", "blocked", "flagged", "upcoming"]);

/** @param {State} state @param {Actions} actions */
export function view(state, actions) {
  const finding = state.look.finding(state.route.id);
  if (!finding) return settled(state);
  const rule = state.look.rule(finding.rule);
  return html`${title(titleOf(state, finding), {
      from: {
        words: whereOf(state, { ...finding.subject, plants: undefined }),
        href: toSubject(finding.subject),
      },
      line: whereOf(state, finding.subject),
    })}
    <div class="finding-head marked marked-${finding.state}">
      ${
        finding.state === "blocked"
          ? html`<p class="band"><span class="band-words">${whenOf(state, finding)}</span></p>`
          : html`<p class="state-words">${whenOf(state, finding)}</p>`
      }
      <p>${messageOf(state, finding)}</p>
    </div>
    ${settling(state, actions, finding)}
    <section class="stack" aria-labelledby="finding-why">
      <h2 id="finding-why">${state.say("screen.finding.why")}</h2>
      ${
        finding.reasons.length
          ? html`<ol class="sums">
              ${finding.reasons.map(
                (reason) => html`<li>${state.say(`reason.${reason.key}`, reason.values)}</li>`,
              )}
            </ol>`
          : html`<p class="soft">${state.say("screen.finding.no_reasons")}</p>`
      }
    </section>
    <section class="stack" aria-labelledby="finding-entries">
      <h2 id="finding-entries">${state.say("screen.finding.entries")}</h2>
      ${entries(state, finding)}
    </section>
    ${rule ? basis(state, rule) : nothing}
    ${mayDecline(state, finding) ? declining(state, actions, finding) : nothing}`;
}

/** @param {State} state @param {Finding} finding */
const mayDecline = (state, finding) =>
  DECLINABLE.has(finding.state) && !isLeadsToDecide(state.session, finding.key, state.look);

/** It is not there any more, most often because it is done. @param {State} state */
const settled = (state) =>
  html`${title(state.say("screen.finding.gone"))}
    <p>${state.say("screen.finding.gone_line")}</p>
    <p><a class="press" href="#/">${state.say("screen.page.to_round")}</a></p>`;

/** @param {State} state @param {Actions} actions @param {Finding} finding */
function settling(state, actions, finding) {
  // What only a decision settles has its place below, where the decision is written.
  if (!finding.settles || finding.settles.kind === "decline") return nothing;
  return html`<section class="stack" aria-labelledby="finding-settle">
    <h2 id="finding-settle">${state.say("screen.finding.settle")}</h2>
    <p>${state.say("screen.finding.settled_by", { verb: verbOf(state, finding.settles.kind) })}</p>
    ${settleButton(state, actions, finding)}
  </section>`;
}

/** @param {State} state @param {Finding} finding */
function entries(state, finding) {
  const known = finding.entries.flatMap((id) => state.look.entry(id) ?? []);
  if (!known.length) return html`<p class="soft">${state.say("screen.finding.no_entries")}</p>`;
  return html`<ul class="go-list">
    ${known.map(
      (entry) =>
        html`<li>
          <a href=${toEntry(entry.id)}>
            <span
              >${doneOf(state, entry.kind)}
              ${gist(state, entry.kind, state.look.event(entry.id)?.details ?? entry.details)}</span
            >
            <span class="soft small"
              >${state.say("screen.value.moment", {
                at_instant: state.look.event(entry.id)?.instant ?? instantOf(entry.happened_at),
              })}</span
            >
          </a>
        </li>`,
    )}
  </ul>`;
}

/** @param {State} state @param {Rule} rule */
const basis = (state, rule) =>
  html`<section class="stack" aria-labelledby="finding-source">
    <h2 id="finding-source">${state.say("screen.finding.source")}</h2>
    <p>${sourceOf(state, rule.source)}</p>
    ${
      rule.caution ? html`<p class="form-odd">${state.say(`caution.${rule.caution}`)}</p>` : nothing
    }
  </section>`;

/**
 * What a source key stands for, with what the row says beside it; the list marks titles by stars.
 * @param {State} state @param {string} source
 */
function sourceOf(state, source) {
  const [key, ...where] = source.split(",");
  const known = state.rulebook.sources[key]?.replaceAll("*", "");
  // What is no publication's title is said in the person's language.
  const said = (/** @type {string} */ text) => state.sayIf(`source.${text.trim()}`) ?? text.trim();
  return known ? [known, ...where.map(said)].join(" · ") : said(source);
}

/** @param {State} state @param {Actions} actions @param {Finding} finding */
const declining = (state, actions, finding) =>
  html`<section class="stack" aria-labelledby="finding-decline">
    <h2 id="finding-decline">${state.say("screen.finding.decline")}</h2>
    ${local(
      finding.key,
      () => ({ reason: "", isEmpty: false }),
      (held, change) =>
        html` <div class="field ${held.isEmpty ? "is-wrong" : ""}">
            <label class="field-label" for="decline-reason"
              >${state.say("screen.finding.reason")}</label
            >
            <input
              id="decline-reason"
              class="text-input"
              autocomplete="off"
              .value=${held.reason}
              aria-invalid=${held.isEmpty ? "true" : nothing}
              aria-describedby=${held.isEmpty ? "decline-wrong" : nothing}
              @input=${(/** @type {Event} */ event) =>
                change((now) => {
                  now.reason = /** @type {HTMLInputElement} */ (event.target).value;
                  now.isEmpty = false;
                })}
            />
            ${
              held.isEmpty
                ? html`<p class="field-wrong" id="decline-wrong">
                    ${state.say("screen.finding.reason_missing")}
                  </p>`
                : nothing
            }
          </div>
          ${press(
            state.say("action.decline"),
            async () => {
              const reason = held.reason.trim();
              if (!reason)
                return change((now) => {
                  now.isEmpty = true;
                });
              await writtenOrHeld(actions.decline(finding, reason));
              actions.go(toSubject(finding.subject));
            },
            "press-field",
          )}`,
    )}
  </section>`;
