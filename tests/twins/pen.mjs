// What the phone's pen does where storage refuses: one scenario by name, one JSON answer.
import { MemoryStore } from "./memory_store.mjs";

const { Pen } = await import("../../client/garden/pen.js");

const SESSION = { garden: { id: "garden", zone: "UTC" }, device: { id: "d" }, person: { id: "p" } };
const CONTEXT = { zone: "UTC", versionOf: () => 1 };
const WATER = { kind: "water", subjects: { bed: "bed" }, details: { volume_l: 5 } };
const NOW = 1780290000000;

/** A store that takes nothing until it is told that there is room. */
class Store extends MemoryStore {
  isFull = true;

  transaction(names) {
    if (this.isFull) throw new DOMException("full", "QuotaExceededError");
    return super.transaction(names);
  }
}

const store = new Store("notebook");
const pen = new Pen(store);

/** @param {number} [seconds] from now */
async function tap(seconds = 0) {
  Date.now = () => NOW + seconds * 1000;
  return pen.write(WATER, SESSION, CONTEXT).then(() => null, (error) => error.name);
}

const written = async () => (await store.getAll("entries")).length;

const SCENARIOS = {
  /** The same button, so many seconds after the first time. */
  async taps({ at }) {
    const failed = [];
    for (const seconds of at) failed.push(await tap(seconds));
    const held = pen.unsaved.map(({ entry }) => entry.happened_at.slice(11, 19));
    store.isFull = false;
    await pen.saveRest("garden");
    return { failed, held, written: await written() };
  },

  /** What is held is written down by itself at the moment when the button is tapped again. */
  async tapped_while_the_rest_is_saved({ tap_is_first: tapIsFirst }) {
    await tap();
    store.isFull = false;
    const both = [() => pen.saveRest("garden"), () => tap(5)];
    const ran = (tapIsFirst ? both.reverse() : both).map((run) => run());
    const told = await Promise.all(ran);
    const failed = told[tapIsFirst ? 0 : 1];
    return { failed, held: pen.unsaved.length, written: await written() };
  },
};

const { scenario, ...given } = JSON.parse(process.argv[2]);
process.stdout.write(JSON.stringify(await SCENARIOS[scenario](given)));
