// @ts-check
// What the camera sees, and each QR code in it. The camera is on only while this is on the screen.
import { html } from "../vendor/lit-html/lit-html.js";
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";
import { makeReader } from "./qr_reader.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {"absent" | "denied" | "busy"} NoCamera */
/** @typedef {{state: State, found: (text: string) => void}} Wanted */

// A hand needs longer to hold still; more looks would only warm the phone.
const LOOK_EVERY_MS = 150;
const ASKED = /** @type {MediaStreamConstraints} */ ({
  audio: false,
  video: { facingMode: "environment", width: { ideal: 1280 }, height: { ideal: 720 } },
});
/** Why a browser gives no picture, by the name of its error. */
const WHY = new Map(
  /** @type {[string, NoCamera][]} */ ([
    ["NotAllowedError", "denied"],
    ["NotFoundError", "absent"],
    ["OverconstrainedError", "absent"],
  ]),
);

class Camera extends AsyncDirective {
  /** @type {Wanted | undefined} */
  wanted;
  /** @type {MediaStream | undefined} */
  stream;
  /** @type {NoCamera | undefined} */
  why;
  isStarted = false;
  video = document.createElement("video");

  /** @param {State} state @param {(text: string) => void} found */
  render(state, found) {
    this.wanted = { state, found };
    if (!this.isStarted) void this.start();
    return this.drawn();
  }

  async start() {
    this.isStarted = true;
    try {
      // A page that came over plain http has no camera to ask for.
      if (!navigator.mediaDevices) throw new DOMException("", "NotFoundError");
      const stream = await navigator.mediaDevices.getUserMedia(ASKED);
      if (!this.isConnected) return stop(stream);
      this.stream = stream;
      await this.look(stream);
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      if (!this.isConnected) return;
      this.why = WHY.get(error.name) ?? "busy";
      this.setValue(this.drawn());
    }
  }

  /** @param {MediaStream} stream */
  async look(stream) {
    const { video } = this;
    video.muted = true;
    video.playsInline = true;
    video.srcObject = stream;
    await video.play();
    const read = await makeReader();
    while (this.stream === stream) {
      const text = await read(video);
      if (text !== undefined && this.stream === stream) this.wanted?.found(text);
      await new Promise((done) => setTimeout(done, LOOK_EVERY_MS));
    }
  }

  /** @override */
  disconnected() {
    if (this.stream) stop(this.stream);
    this.stream = undefined;
    this.isStarted = false;
  }

  /** @override */
  reconnected() {
    void this.start();
  }

  drawn() {
    const { say } = /** @type {Wanted} */ (this.wanted).state;
    if (this.why)
      return html`<p class="field-wrong" role="status">${say(`screen.scan.${this.why}`)}</p>`;
    return html`<div class="camera" role="img" aria-label=${say("screen.scan.view")}>
      ${this.video}
    </div>`;
  }
}

/** @param {MediaStream} stream */
function stop(stream) {
  for (const track of stream.getTracks()) track.stop();
}

const place = directive(Camera);

/**
 * @param {State} state
 * @param {(text: string) => void} found is told the text of each code that is seen
 */
export const camera = (state, found) => place(state, found);
