// @ts-check
// A little state that belongs to one place on the screen and to nobody else: what is typed, picked
// or open. It outlives redraws of the page around it, and starts anew when its key changes.
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";

/** @typedef {(held: any, change: (alter: (held: any) => void) => void) => unknown} AnyDraw */

class Local extends AsyncDirective {
  /** @type {string | undefined} */
  key;
  /** @type {unknown} */
  held;
  /** @type {AnyDraw} */
  draw = () => undefined;

  /** @param {(held: any) => void} alter */
  change = (alter) => {
    alter(this.held);
    if (this.isConnected) this.setValue(this.draw(this.held, this.change));
  };

  /**
   * @param {string} key
   * @param {() => unknown} start
   * @param {AnyDraw} draw
   */
  render(key, start, draw) {
    if (key !== this.key) {
      this.key = key;
      this.held = start();
    }
    this.draw = draw;
    return draw(this.held, this.change);
  }
}

const place = directive(Local);

/**
 * @template T
 * @param {string} key
 * @param {() => T} start
 * @param {(held: T, change: (alter: (held: T) => void) => void) => unknown} draw
 */
export const local = (key, start, draw) => place(key, start, /** @type {AnyDraw} */ (draw));
