// @ts-check
// A picture on the screen. Its bytes come from the store or the shed after the page is drawn, and the
// address that the browser gives them is let go with the place that they are shown in.
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").NoPicture} NoPicture */
/**
 * @typedef {object} Wanted
 * @property {string} key another key is another picture
 * @property {() => Promise<Blob | NoPicture>} find
 * @property {string} alt
 * @property {number | null} heardMs when this changes, a picture that was not found is tried again
 * @property {(why: NoPicture) => string} whyNot
 */

class Picture extends AsyncDirective {
  /** @type {Wanted | undefined} */
  wanted;
  /** @type {string | undefined} */
  address;
  /** @type {NoPicture | undefined} */
  why;
  isFinding = false;

  /** @param {Wanted} wanted */
  render(wanted) {
    const before = this.wanted;
    this.wanted = wanted;
    const isOther = before?.key !== wanted.key;
    if (isOther) this.letGo();
    const mayBeThere = this.why !== undefined && before?.heardMs !== wanted.heardMs;
    if (isOther || mayBeThere) void this.find();
    return this.drawn();
  }

  async find() {
    const wanted = this.wanted;
    if (!wanted || this.isFinding) return;
    this.isFinding = true;
    const found = await wanted.find().finally(() => {
      this.isFinding = false;
    });
    // Meanwhile the place may be gone, or show another picture.
    if (!this.isConnected) return;
    if (this.wanted?.key !== wanted.key) return void this.find();
    if (found instanceof Blob) {
      this.letGo();
      this.address = URL.createObjectURL(found);
    } else this.why = found;
    this.setValue(this.drawn());
  }

  letGo() {
    if (this.address !== undefined) URL.revokeObjectURL(this.address);
    this.address = undefined;
    this.why = undefined;
  }

  /** @override */
  disconnected() {
    this.letGo();
  }

  /** @override */
  reconnected() {
    void this.find();
  }

  drawn() {
    const { wanted, address, why } = this;
    if (!wanted) return nothing;
    if (address !== undefined) return html`<img class="picture" src=${address} alt=${wanted.alt} />`;
    const told = why && wanted.whyNot(why);
    const name = told ? `${wanted.alt}. ${told}` : wanted.alt;
    return html`<span class="picture picture-none" role="img" aria-label=${name}
      >${told ?? nothing}</span
    >`;
  }
}

const place = directive(Picture);

/** @param {Wanted} wanted */
export const picture = (wanted) => place(wanted);
