// @ts-check
// Tells the other tabs of this phone what one of them stored.

import { BOOK } from "../store/which.js";

/** @typedef {import("../types.js").Entry} Entry */

/**
 * @typedef {{about: "entries", entries: Entry[]}
 *   | {about: "everything"}
 *   | {about: "counts"}} Told
 * "everything": read the store anew; "counts": only what waits, attention and the last exchange
 */

export class Tabs {
  #channel = new BroadcastChannel(BOOK);

  /** @param {(told: Told) => void} onTold */
  constructor(onTold) {
    this.#channel.onmessage = (event) => onTold(/** @type {Told} */ (event.data));
  }

  /** @param {Told} told */
  tell(told) {
    this.#channel.postMessage(told);
  }
}
