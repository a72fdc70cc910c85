// What a phone does against a shed that plays a part: one scenario by name, one JSON answer.
import { MemoryStore } from "./memory_store.mjs";

const [{ appendEntry, readLog }, { enterGarden, leaveGarden }, { runRound }, outbox, attention,
  { SyncError }, { tick }] = await Promise.all([
  "store/entries", "store/membership", "sync/round", "store/outbox", "store/attention",
  "sync/errors", "log/clock",
].map((name) => import(`../../client/${name}.js`)));

const NOW = 1780290000000;
let made = 0;
const newId = () => {
  made += 1;
  return `019dd2b0-7a41-7c3e-9f60-${String(made).padStart(12, "0")}`;
};
const [GARDEN, DEVICE, PERSON] = [newId(), newId(), newId()];
const SESSION = { garden: { id: GARDEN }, device: { id: DEVICE }, person: { id: PERSON } };

/** A log, and the arrived numbers of every notebook; answers as the shed does, well behaved. */
class Shed {
  log = [];
  epoch = "first";
  arrived = new Map();
  asked = [];
  saysHighest = true;

  exchange = async (request) => {
    this.asked.push(structuredClone(request));
    const { notebook, entries } = request;
    const numbers = this.arrived.get(notebook) ?? new Set();
    this.arrived.set(notebook, numbers);
    for (const number of request.given_up ?? []) numbers.add(number);
    const answers = entries.map((entry) => this.#take(entry, numbers));
    const cursor = request.cursor > this.log.length ? 0 : request.cursor;
    const highest = Math.max(0, ...numbers);
    const all = Array.from({ length: highest }, (_, at) => at + 1);
    const missing = all.filter((number) => !numbers.has(number));
    return structuredClone({
      answers, entries: this.log.slice(cursor), cursor: this.log.length, head: this.log.length,
      epoch: this.epoch, server_time_ms: NOW, devices: [], people: [], assets: "",
      notebook: {
        id: notebook, unbroken: (missing[0] ?? highest + 1) - 1, missing,
        ...(this.saysHighest && { highest }),
      },
      you: { role: "lead" },
    });
  };

  #take(entry, numbers) {
    const { id, number } = entry;
    const known = this.log.find((one) => one.id === id);
    const isSame = known && JSON.stringify(known.details) === JSON.stringify(entry.details);
    if (known && !isSame) return { id, number, result: "refused" };
    numbers.add(number);
    if (known) return { id, number, result: "known", seq: known.seq, order: known.order };
    const stored = { ...entry, seq: this.log.length + 1, order: entry.clock };
    this.log.push(stored);
    return { id, number, result: "accepted", seq: stored.seq, order: stored.order };
  }
}

class Phone {
  store = new MemoryStore(newId());

  constructor(shed) {
    this.exchange = shed.exchange;
  }

  enter = () => enterGarden(this.store, SESSION, NOW, newId());
  log = async () => (await readLog(this.store, GARDEN)).map((entry) => entry.id);

  write = (details, more = {}) => appendEntry(this.store, (notebook) => {
    const clock = tick(notebook.clock, NOW);
    const entry = {
      id: newId(), garden: GARDEN, kind: "note", version: 1, subjects: {}, details,
      happened_at: "2026-06-01T07:40:00+02:00", recorded_at: "2026-06-01T07:40:00+02:00",
      device: DEVICE, person: PERSON, ...more,
      notebook: notebook.id, number: notebook.number + 1, clock,
    };
    return { entry, clock };
  });

  sync = () => runRound({
    store: this.store, garden: GARDEN, exchange: (request) => this.exchange(request),
    nowMs: () => NOW, newId, advance: (last, seen) => tick(last > seen ? last : seen, NOW),
    onCommitted: async () => {},
  });
}

async function pair() {
  const shed = new Shed();
  const phone = new Phone(shed);
  await phone.enter();
  return { shed, phone };
}

const waits = async (phone) => (await outbox.readWaiting(phone.store)).length;

const SCENARIOS = {
  /** The phone leaves while an answer is on its way, and joins the same garden again. */
  async left_during_a_pull() {
    const { shed, phone } = await pair();
    for (let n = 0; n < 3; n += 1) await phone.write({ text: String(n) });
    await phone.sync();
    await phone.write({ text: "last" });
    phone.exchange = async (request) => {
      const answer = await shed.exchange(request);
      await leaveGarden(phone.store, { isRevoked: false });
      return answer;
    };
    await phone.sync();
    const cursor = (await phone.store.get("meta", "cursor")) ?? null;
    phone.exchange = shed.exchange;
    await phone.enter();
    await phone.sync();
    return { cursor, at_shed: shed.log.length, on_phone: (await phone.log()).length };
  },

  /** The shed's files are put back without a word, before others have written more. */
  async files_put_back({ grows, says_highest: saysHighest }) {
    const { shed, phone } = await pair();
    shed.saysHighest = saysHighest;
    await phone.write({ text: "kept" });
    await phone.sync();
    const [log, arrived] = [[...shed.log], structuredClone(shed.arrived)];
    for (let n = 0; n < 3; n += 1) await phone.write({ text: String(n) });
    await phone.sync();
    Object.assign(shed, { log, arrived });
    const other = new Phone(shed);
    await other.enter();
    for (let n = 0; n < (grows ? 9 : 0); n += 1) await other.write({ text: "other" });
    await other.sync();
    await phone.sync();
    return {
      at_shed: shed.log.map((entry) => entry.id).sort(), on_phone: (await phone.log()).sort(),
      written: grows ? 13 : 4,
    };
  },

  /** The shed's files are put back without a word, and with them what it had of photos. */
  async photos_put_back() {
    const { shed, phone } = await pair();
    const { digestOf } = await import("../../client/store/digest.js");
    const photos = await import("../../client/store/photos.js");
    const { exchangePhotos } = await import("../../client/sync/photos.js");
    const image = new TextEncoder().encode("photo").buffer;
    const sha256 = await digestOf(image);
    const photo = photos.photoOf(GARDEN, { sha256, type: "image/jpeg", image }, "waiting", NOW);
    await photos.keepPhotos(phone.store.transaction(["photos", "images"]), [photo]);
    const held = new Set();
    let isAsked = false;
    globalThis.fetch = async (path, { method }) => {
      if (method === "PUT") return Response.json({ sha256: held.add(sha256) && sha256 });
      isAsked = true;
      return Response.json({ missing: held.has(sha256) ? [] : [sha256] });
    };
    const talk = async () => {
      isAsked = false;
      await phone.sync();
      await exchangePhotos({
        store: phone.store, garden: GARDEN, isInterrupted: () => false, onChanged: async () => {},
      });
      return isAsked;
    };
    await phone.write({ text: "kept" });
    await talk();
    const [log, arrived] = [[...shed.log], structuredClone(shed.arrived)];
    await phone.write({ text: "lost with the photo" });
    const asked = [await talk()];
    const sent = [held.size];
    Object.assign(shed, { log, arrived });
    held.clear();
    asked.push(await talk());
    sent.push(held.size);
    return { sent, asked };
  },

  /** The shed has stored an entry, but its answers to it are lost: it is held, and pulled. */
  async answer_lost() {
    const { shed, phone } = await pair();
    const entry = await phone.write({ text: "once" });
    phone.exchange = async (request) => {
      const answer = await shed.exchange(request);
      if (request.entries.length) throw new SyncError("failed");
      return answer;
    };
    await phone.sync();
    return {
      attention: await attention.readAttention(phone.store),
      waiting: (await outbox.readWaiting(phone.store)).length,
      in_log: (await phone.log()).includes(entry.id),
    };
  },

  /** The shed's disk is full for a while: entries of this phone wait, those of others come. */
  async shed_is_full({ code }) {
    const { shed, phone } = await pair();
    const other = new Phone(shed);
    await other.enter();
    await other.write({ text: "theirs" });
    await other.sync();
    for (let n = 0; n < 3; n += 1) await phone.write({ text: String(n) });
    phone.exchange = async (request) => {
      if (request.entries.length) throw new SyncError(code);
      return shed.exchange(request);
    };
    const failed = await phone.sync().then(() => null, (error) => error.code);
    const meanwhile = { waiting: await waits(phone), on_phone: (await phone.log()).length };
    phone.exchange = shed.exchange;
    await phone.sync();
    const at_last = { waiting: await waits(phone), at_shed: shed.log.length };
    return { failed, meanwhile, at_last, attention: await attention.readAttention(phone.store) };
  },

  /** An entry that is held is taken back; both go over once it is let go. */
  async held_and_taken_back() {
    const { shed, phone } = await pair();
    const entry = await phone.write({ text: "slip" });
    phone.exchange = async (request) => {
      if (request.entries.some(({ id }) => id === entry.id)) throw new SyncError("timed_out");
      return shed.exchange(request);
    };
    await phone.sync();
    const taking = await phone.write({ entry: entry.id }, { kind: "void" });
    const other = await phone.write({ text: "other" });
    await phone.sync();
    const meanwhile = shed.log.map(({ id }) => id);
    phone.exchange = shed.exchange;
    await outbox.releaseHeld(phone.store);
    await phone.sync();
    const names = new Map([[entry.id, "entry"], [taking.id, "void"], [other.id, "other"]]);
    const named = (ids) => ids.map((id) => names.get(id));
    return { meanwhile: named(meanwhile), at_last: named(shed.log.map(({ id }) => id)) };
  },

  /** An entry that could not be sent is mended by another. */
  async mended_before_sending() {
    const { shed, phone } = await pair();
    const bad = await phone.write({ text: "bad" });
    await outbox.holdEntry(phone.store, bad.id, "too_large", NOW);
    await phone.write({ text: "good" }, { mends: bad.id });
    await phone.sync();
    const told = shed.asked.map((request) => request.given_up ?? null);
    await phone.sync();
    const { missing } = await phone.store.get("meta", "heard");
    return { told, missing, asked: shed.asked.length, number: bad.number };
  },

  /** Another phone's entry has the id of one that this phone has not sent yet, or has. */
  async same_id_other_content({ is_sent: isSent }) {
    const { shed, phone } = await pair();
    const id = newId();
    const other = new Phone(shed);
    await other.enter();
    await other.write({ text: "theirs" }, { id });
    await other.sync();
    await phone.write({ text: "mine" }, { id });
    if (!isSent) {
      const row = await phone.store.get("outbox", id);
      await phone.store.put("outbox", { ...row, held: true });
    }
    await phone.sync();
    const [told] = await attention.readAttention(phone.store);
    const folded = (await readLog(phone.store, GARDEN)).find((entry) => entry.id === id);
    const waiting = (await outbox.readWaiting(phone.store)).length;
    await leaveGarden(phone.store, { isRevoked: true });
    return {
      result: told.result, mine: told.entry.details.text, folded: folded.details.text, waiting,
      after_leaving: (await phone.store.get("entries", id)).details.text,
    };
  },
};

const { scenario, ...given } = JSON.parse(process.argv[2]);
process.stdout.write(JSON.stringify(await SCENARIOS[scenario](given)));
