// @ts-check
// A long list that is drawn in turns, what is seen first at once, so that no single drawing keeps
// the thumb waiting. Once all of it is there, it is drawn whole.
import { nothing } from "../vendor/lit-html/lit-html.js";
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";

/** More than fits on a phone, so that what stands below the list is not seen to move. */
const FIRST_LINES = 8;

/** After an item that could not be drawn, lists are drawn whole: what breaks down is met there. */
let firstLines = FIRST_LINES;

class InTurns extends AsyncDirective {
  #shown = firstLines;
  /** @type {number[]} */
  #lines = [];
  /** @type {(count: number) => unknown} */
  #draw = () => nothing;
  #redraw = () => {};
  #isWaiting = false;

  /**
   * @param {number[]} lines @param {(count: number) => unknown} draw
   * @param {Pick<import("../types.js").Actions, "redraw">} actions
   */
  render(lines, draw, { redraw }) {
    this.#lines = lines;
    this.#draw = draw;
    this.#redraw = redraw;
    return this.#turn();
  }

  #turn() {
    const count = this.#countWithin(this.#shown);
    if (count < this.#lines.length) this.#wait();
    return this.#draw(count);
  }

  /** How many items begin within the first of so many lines. @param {number} lines */
  #countWithin(lines) {
    let above = 0;
    const end = this.#lines.findIndex((own) => (above += own) - own >= lines);
    return end < 0 ? this.#lines.length : end;
  }

  #wait() {
    if (this.#isWaiting) return;
    this.#isWaiting = true;
    setTimeout(() => {
      this.#isWaiting = false;
      this.#shown *= 2;
      if (!this.isConnected) return;
      try {
        this.setValue(this.#turn());
      } catch (error) {
        console.error(error);
        firstLines = Infinity;
        this.#redraw();
      }
    });
  }
}

/**
 * Draws a list, given how many lines each of its items has, and what draws the first of so many
 * items; `actions`, for an item that can't be drawn.
 */
export const inTurns = directive(InTurns);
