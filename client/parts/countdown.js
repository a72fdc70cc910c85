// @ts-check
// The time left to a moment, drawn anew each second; the phone shakes when the moment comes.
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";

const SHAKE_MS = [600, 200, 600, 200, 1200];

class Countdown extends AsyncDirective {
  untilMs = 0;
  /** @type {(leftS: number) => unknown} */
  draw = () => undefined;
  /** @type {ReturnType<typeof setInterval> | undefined} */
  timer;

  /** @param {number} untilMs @param {(leftS: number) => unknown} draw */
  render(untilMs, draw) {
    this.untilMs = untilMs;
    this.draw = draw;
    this.reconnected();
    return draw(this.left());
  }

  left = () => Math.max(0, Math.ceil((this.untilMs - Date.now()) / 1000));

  tick = () => {
    const left = this.left();
    this.setValue(this.draw(left));
    if (left > 0) return;
    this.disconnected();
    navigator.vibrate?.(SHAKE_MS);
  };

  /** @override */
  disconnected() {
    clearInterval(this.timer);
    this.timer = undefined;
  }

  /** @override */
  reconnected() {
    if (this.left() > 0) this.timer ??= setInterval(this.tick, 1000);
  }
}

/** Whole seconds left to a moment, handed to `draw` as they pass. */
export const countdown = directive(Countdown);

/** The moment so many minutes from now. @param {number} minutes */
export const endAfter = (minutes) => Date.now() + minutes * 60_000;
