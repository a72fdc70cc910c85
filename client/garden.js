// @ts-check
// The running garden: the log on this phone, what follows from it, and the talk with the shed.
import { NO_CALENDARS } from "./garden/calendars.js";
import { makeKeeper, recallFindings } from "./garden/kept_findings.js";
import { NotSaved, wordOf } from "./garden/not_saved.js";
import { wipeRevoked } from "./garden/pairing.js";
import { isLeadsToChange, isLiftingForbidden, NotPermitted } from "./garden/permission.js";
import { Pen } from "./garden/pen.js";
import { placed } from "./garden/placing.js";
import { NO_REPORTS } from "./garden/reports.js";
import { Standing } from "./garden/standing.js";
import { makeState } from "./garden/state.js";
import { readWalks } from "./garden/walks.js";
import { talkIfTheyStillWait, talkWithShed } from "./garden/talk.js";
import { MENDING_KINDS } from "./log/telling.js";
import { readAttention } from "./store/attention.js";
import { readBook } from "./store/book.js";
import { readMeta, writeMeta } from "./store/meta.js";
import { readPhotoRows } from "./store/photos.js";
import { readWaiting } from "./store/outbox.js";
import { SyncLoop } from "./sync/loop.js";
import { presentIn } from "./zone.js";

/** @typedef {import("./types.js").Draft} Draft */
/** @typedef {import("./types.js").Entry} Entry */
/** @typedef {import("./types.js").Notice} Notice */
/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").SyncState} SyncState */
/** @typedef {import("./garden/tabs.js").Told} Told */

const NOTICE_MS = 12_000;
/** In which a slow phone has drawn what its findings were when they were kept. */
const DRAWN_FIRST_MS = 500;

export class Garden {
  /** @type {Set<(state: State) => void>} */
  #listeners = new Set();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #turn;
  #keep;
  #notices = 0;
  #hasToldElsewhere = false;

  /**
   * @param {import("./store/schema.js").Store} store
   * @param {import("./garden/tabs.js").Tabs} tabs
   * @param {import("./garden/edge.js").Assets} assets
   * @param {import("./types.js").Preferences} preferences
   */
  constructor(store, tabs, assets, preferences) {
    this.store = store;
    this.pen = new Pen(store);
    this.#keep = makeKeeper(store);
    this.tabs = tabs;
    this.loop = new SyncLoop(() => talkWithShed(this), (sync, error) => this.#onSync(sync, error));
    /** @type {import("./garden/state.js").Held} */
    this.held = {
      session: null, route: { name: "round", id: "", query: {} }, zone: "UTC",
      sync: { phase: "idle", error: null, nextTryMs: null }, heard: undefined,
      attention: [], photos: [], waitingIds: new Set(), unsaved: 0, persisted: null, update: false,
      notices: [], invitation: null, reports: NO_REPORTS,
      calendars: NO_CALENDARS, walks: [],
      standing: new Standing(assets.rulebook), assets, preferences,
      present: presentIn("UTC", Date.now()),
    };
    this.state = makeState(this.held);
  }

  /**
   * Takes up what the store holds.
   * @param {import("./store/book.js").Book} book
   */
  async load({ session, log, persisted, revoked, reports, findings }) {
    const { held } = this;
    held.session = session ?? null;
    held.persisted = persisted ?? null;
    held.reports = { ...NO_REPORTS, told: reports ?? {} };
    if (revoked) held.sync = { phase: "revoked", error: "revoked", nextTryMs: null };
    held.zone = session?.garden.zone ?? held.zone;
    held.standing.start(log);
    const present = this.#present();
    const isRecalled = recallFindings(findings, held.standing, present);
    if (!isRecalled) await held.standing.review(present);
    await this.refreshCounts();
    if (isRecalled) setTimeout(() => void this.review(), DRAWN_FIRST_MS);
  }

  /** Reads what waits, what needs attention and what the last exchange said. */
  async refreshCounts() {
    const { store, held } = this;
    const garden = held.session?.garden.id;
    const [waiting, attention, heard, photos, walks] = await Promise.all([
      readWaiting(store), readAttention(store), readMeta(store, "heard"), readPhotoRows(store),
      readWalks(store, garden),
    ]);
    held.walks = walks;
    // Without a session (revoked, or not joined yet) all that waits is shown.
    const isHere = (/** @type {string} */ other) => garden === undefined || other === garden;
    held.waitingIds = new Set(waiting.filter((row) => isHere(row.garden)).map((row) => row.id));
    held.attention = attention.filter((row) => isHere(row.entry.garden));
    held.photos = photos.filter((row) => isHere(row.garden));
    held.heard = heard;
    const unsent = [...waiting, ...photos.filter((row) => row.state !== "sent")];
    this.#tellElsewhere(unsent.filter((row) => !isHere(row.garden)).length);
    this.changed();
  }

  /**
   * What waits for a garden that this phone has left can't go over; they are kept, and said once.
   * @param {number} count
   */
  #tellElsewhere(count) {
    if (!count || this.#hasToldElsewhere) return;
    this.#hasToldElsewhere = true;
    this.notice("warning", { key: "notice.elsewhere", values: { count } });
  }

  /** @param {(state: State) => void} listener */
  subscribe(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Makes the state anew, and shows it. */
  changed() {
    this.held.unsaved = this.pen.unsaved.length;
    this.state = makeState(this.held);
    for (const listener of this.#listeners) listener(this.state);
    this.#waitForTurn();
    this.#keep(this.held.standing, this.held.session?.garden.id);
  }

  /**
   * Writes an entry; resolves when it is durable. One that storage refuses is kept in memory, the
   * person is told, and the promise is rejected with NotSaved.
   * @param {Draft} draft
   */
  async record(draft) {
    const { held, pen } = this;
    if (!held.session) throw new Error("no garden joined");
    // The role as the shed last told it, which may be another one than at joining.
    if (isLiftingForbidden(draft, this.state.session, this.state.look)) {
      this.notice("trouble", { key: "error.leads_to_change", values: {} });
      throw new NotPermitted();
    }
    const versionOf = (/** @type {string} */ kind) => this.state.look.kind(kind)?.version ?? 1;
    try {
      const whole = { ...draft, subjects: placed(draft, this.state.look) };
      const all = await pen.write(whole, held.session, { zone: held.zone, versionOf });
      const rest = await pen.saveRest(held.session.garden.id);
      if (!pen.unsaved.length) this.closeNoticesOf("error.not_saved");
      await this.takeIn([...all, ...rest]);
      this.loop.soon();
      this.#noticeWritten(all[0], draft.further);
      if (held.persisted === null) void this.askToKeep();
      return all[0];
    } catch (error) {
      if (error instanceof NotSaved) this.notice("trouble", { key: wordOf(error), values: {} });
      throw error;
    }
  }

  /** Asks the browser to keep the log when it runs short of space; the answer is shown. */
  async askToKeep() {
    // Plain http on the LAN has no storage manager: nothing can be promised there.
    const persisted = navigator.storage?.persist ? await navigator.storage.persist() : false;
    this.held.persisted = persisted;
    await writeMeta(this.store, "persisted", persisted);
    this.changed();
  }

  /** A newer page waits, or has already taken the store. */
  offerUpdate() {
    this.held.update = true;
    this.changed();
  }

  /**
   * Takes entries that are stored into the ledger, and tells the other tabs. One that stands for
   * another of this log makes that one leave it.
   * @param {Entry[]} entries
   */
  async takeIn(entries) {
    const { entries: known } = this.held.standing;
    if (entries.some(({ mends }) => mends !== undefined && known.has(mends))) return this.reload();
    await this.held.standing.add(entries, this.#present());
    this.tabs.tell({ about: "entries", entries });
    await this.refreshCounts();
  }

  /** Reads everything anew, here and in the other tabs. */
  async reload() {
    this.tabs.tell({ about: "everything" });
    await this.load(await readBook(this.store));
  }

  /**
   * @param {Notice["tone"]} tone
   * @param {import("./types.js").Message} message
   * @param {Pick<Notice, "entry" | "mayUndo">} [about]
   */
  notice(tone, message, about = {}) {
    const id = (this.#notices += 1);
    // One tap's word makes room for the next one's; what went wrong stays until it is closed.
    const kept = this.held.notices.filter((one) => one.tone !== "done"
      && one.message.key !== message.key);
    this.held.notices = [...kept, { id, tone, message, ...about }];
    if (tone === "done") setTimeout(() => this.closeNotice(id), NOTICE_MS);
    this.changed();
  }

  /** @param {Entry} entry @param {Draft["further"]} [further] which one tap could not take back */
  #noticeWritten(entry, further) {
    const { id, kind } = entry;
    const message = { key: `kind.${kind}.done`, values: {} };
    if (further || MENDING_KINDS.includes(kind)) return this.notice("done", message);
    const mayUndo = !isLeadsToChange(this.state.session, entry, this.state.look);
    this.notice("done", message, { entry: id, mayUndo });
  }

  /** @param {number} id */
  closeNotice(id) {
    this.held.notices = this.held.notices.filter((notice) => notice.id !== id);
    this.changed();
  }

  /** @param {string} key of the message that holds no longer */
  closeNoticesOf(key) {
    this.held.notices = this.held.notices.filter((notice) => notice.message.key !== key);
  }

  /** Set by whoever watches the service worker: the shed serves other files than these. */
  async onNewAssets() {}

  /** Counts anew what waits, here and in the other tabs. */
  async recount() {
    this.tabs.tell({ about: "counts" });
    await this.refreshCounts();
  }

  /**
   * @param {SyncState} sync
   * @param {unknown} error
   */
  async #onSync(sync, error) {
    this.held.sync = sync;
    if (sync.phase === "revoked") {
      await wipeRevoked(this.store);
      await this.reload();
    }
    if (sync.error === "unexpected") console.error(error);
    this.changed();
  }

  /** @param {Told} told */
  async hear(told) {
    if (told.about === "everything") return this.load(await readBook(this.store));
    if (told.about === "entries") {
      await this.held.standing.add(told.entries, this.#present());
      talkIfTheyStillWait(this, told.entries);
    }
    await this.refreshCounts();
  }

  /** The present in the garden's zone, which a `setting` entry may have changed. */
  #present() {
    const { held } = this;
    held.zone = held.standing.ledger.settings().zone ?? held.session?.garden.zone ?? held.zone;
    held.present = presentIn(held.zone, Date.now());
    return held.present;
  }

  #waitForTurn() {
    clearTimeout(this.#turn);
    const now = Date.now();
    this.#turn = setTimeout(() => void this.review(), this.held.standing.nextReview(now) - now);
  }

  async review() {
    await this.held.standing.review(this.#present());
    this.changed();
  }
}
