// @ts-check
// The parts of a long screen, drawn in turns, what is seen first at once, so that no single drawing
// keeps the thumb waiting: neither the first of a screen nor that of a change.
import { noChange, nothing } from "../vendor/lit-html/lit-html.js";
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";

/** @typedef {Pick<import("../types.js").Actions, "redraw">} Actions */
/** @typedef {{lines: number, redraw: () => void}} Screen with the lines that are drawn so far */

/** More than fits on a phone, so that what stands below is not seen to move. */
const FIRST_LINES = 8;

/** Half a frame: after that the thumb is heard before the next turn. */
const TURN_MS = 8;

/** After a part that could not be drawn, all is drawn at once: what breaks down is met there. */
let firstLines = FIRST_LINES;

/** @type {InTurn[]} in the order of the page */
const waiting = [];
/** Where the next one is put: at the end, but a part's own parts come next. */
let place = Infinity;
let timer = 0;

class InTurn extends AsyncDirective {
  #isWaiting = false;
  /** @type {() => unknown} */
  #draw = () => nothing;
  redraw = () => {};

  /** @param {Screen} screen @param {number} lines its own @param {() => unknown} draw */
  render(screen, lines, draw) {
    this.#draw = draw;
    this.redraw = screen.redraw;
    const isFirst = screen.lines < firstLines;
    screen.lines += lines;
    if (!isFirst && !this.#isWaiting) {
      waiting.splice(place++, 0, this);
      timer ||= setTimeout(takeTurns);
    }
    this.#isWaiting = !isFirst;
    return isFirst ? draw() : noChange;
  }

  takeTurn() {
    if (!this.#isWaiting || !this.isConnected) return;
    this.#isWaiting = false;
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
  const screen = { lines: 0, redraw };
  return (/** @type {number} */ lines, /** @type {() => unknown} */ draw) =>
    inTurn(screen, lines, draw);
}
