// @ts-check
// The order in which the beds are walked: by dragging a bed, or with the two buttons beside it.
import { writtenOrHeld } from "../garden/not_saved.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { dragging } from "../parts/dragging.js";
import { local } from "../parts/local.js";
import { press } from "../parts/press.js";
import { title } from "../parts/title.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Actions} Actions */

/** @param {State} state @param {Actions} actions */
export const view = (state, actions) =>
  html`${title(state.say("screen.walk.title"), {
    from: { words: state.say("screen.round.name"), href: "#/" },
    line: state.say("screen.walk.line"),
  })}
  ${local(
    `walk ${state.beds.length}`,
    () => ({ order: state.beds.map((bed) => bed.id), moved: "" }),
    (held, change) => {
      const move = (/** @type {number} */ from, /** @type {number} */ to) =>
        change((now) => {
          if (to < 0 || to >= now.order.length || from === to) return;
          const [bed] = now.order.splice(from, 1);
          now.order.splice(to, 0, bed);
          now.moved = state.say("screen.walk.moved", { bed, place: to + 1 });
        });
      return html`<ol class="walk">
          ${repeat(
            held.order,
            (bed) => bed,
            (bed, at) =>
              html`<li class="walk-stop" data-place=${at}>
                <button
                  type="button"
                  class="walk-grip"
                  tabindex="-1"
                  aria-hidden="true"
                  @pointerdown=${dragging(at, move)}
                >
                  ⠿
                </button>
                <span class="walk-number" aria-hidden="true">${at + 1}</span>
                <span class="walk-name">${state.say("screen.who.bed", { bed })}</span>
                ${press(
                  html`<span aria-hidden="true">↑</span>`,
                  () => move(at, at - 1),
                  "",
                  state.say("screen.walk.up", { bed }),
                )}
                ${press(
                  html`<span aria-hidden="true">↓</span>`,
                  () => move(at, at + 1),
                  "",
                  state.say("screen.walk.down", { bed }),
                )}
              </li>`,
          )}
        </ol>
        <p class="unseen" aria-live="polite">${held.moved}</p>
        ${
          held.order.length && state.session?.role === "lead"
            ? press(
                state.say("action.save_order"),
                async () => {
                  const details = { walk_order: [...held.order] };
                  await writtenOrHeld(actions.record({ kind: "setting", details }));
                  actions.go("#/");
                },
                "press-ink press-field press-wide",
              )
            : nothing
        }
        ${
          state.session?.role === "lead"
            ? nothing
            : html`<p class="soft">${state.say("screen.garden.lead_sets")}</p>`
        }`;
    },
  )}`;
