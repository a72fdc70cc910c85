// @ts-check
// The parts of a long screen, drawn in turns, what is seen first at once, so that no single drawing
// keeps the thumb waiting. A part that has had its turn is drawn with every state from then on: a
// button of what is settled would be there to be tapped again otherwise.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";

/** @typedef {Pick<import("../types.js").Actions, "redraw">} Actions */
/** @typedef {{lines: number, redraw: () => void}} Drawing with the lines counted so far */

/** More than fits on a phone, so that what stands below is not seen to move. */
const FIRST_LINES = 8;

/** Half a frame: after that the thumb is heard before the next turn. */
const TURN_MS = 8;

/** After a part that could not be drawn, all is drawn at once: what breaks down is met there. */
let firstLines = FIRST_LINES;

/** @type {InTurn[]} */
const waiting = [];
/** Where the next one is put: at the end, but a part's own parts come next. */
let place = Infinity;
let timer = 0;

class InTurn extends AsyncDirective {
  #isDrawn = false;
  #isWaiting = false;
  /** @type {() => unknown} */
  #draw = () => nothing;
  redraw = () => {};

  /** @param {Drawing} drawing @param {number} lines its own @param {() => unknown} draw */
  render(drawing, lines, draw) {
    this.#draw = draw;
    this.redraw = drawing.redraw;
    this.#isDrawn ||= drawing.lines < firstLines;
    drawing.lines += lines;
    if (this.#isDrawn) return draw();
    if (!this.#isWaiting) {
      this.#isWaiting = true;
      waiting.splice(place++, 0, this);
      timer ||= setTimeout(takeTurns);
    }
    return nothing;
  }

  takeTurn() {
    if (this.#isDrawn || !this.isConnected) return;
    this.#isDrawn = true;
    this.setValue(this.#draw());
  }
}

const inTurn = directive(InTurn);

function takeTurns() {
  const end = performance.now() + TURN_MS;
  for (let part; performance.now() < end && (part = waiting.shift()); ) {
    place = 0;
    try {
      part.takeTurn();
    } catch (error) {
      console.error(error);
      firstLines = Infinity;
      part.redraw();
    }
  }
  place = Infinity;
  timer = waiting.length && setTimeout(takeTurns);
}

/**
 * For one drawing of a screen: takes each part of it with the lines that it has about, and what
 * draws it. A part may have parts.
 * @param {Actions} actions for a part that can't be drawn
 */
export function inTurns({ redraw }) {
  const drawing = { lines: 0, redraw };
  // In a template of its own, since an item of a list is not told when it is taken out.
  return (/** @type {number} */ lines, /** @type {() => unknown} */ draw) =>
    html`${inTurn(drawing, lines, draw)}`;
}
