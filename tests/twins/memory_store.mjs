// A phone's store in memory, for what needs no browser: the calls that client/store makes of IndexedDB.
import { register } from "node:module";

// The one module that opens the real database asks for a package that only a browser is served.
const STUB = "data:text/javascript,export const openDB = undefined;";
const LOADER = `export const resolve = (name, context, next) =>
  name.includes("/vendor/idb/") ? { url: ${JSON.stringify(STUB)}, shortCircuit: true }
    : next(name, context);`;
register(`data:text/javascript,${encodeURIComponent(LOADER)}`);

const copy = (value) => (value === undefined ? undefined : structuredClone(value));

class ObjectStore {
  constructor(rows, hasOwnKey) {
    this.rows = rows;
    this.keyOf = (value, key) => (hasOwnKey ? value.id : key);
  }

  get = async (key) => copy(this.rows.get(key));
  getAll = async () => [...this.rows.keys()].sort().map((key) => copy(this.rows.get(key)));
  getAllKeys = async () => [...this.rows.keys()].sort();
  put = async (value, key) => void this.rows.set(this.keyOf(value, key), copy(value));
  delete = async (key) => void this.rows.delete(key);

  add = async (value) => {
    if (this.rows.has(value.id)) throw new DOMException("known", "ConstraintError");
    this.rows.set(value.id, copy(value));
  };

  index = (name) => ({
    getAll: async (wanted) => (await this.getAll()).filter((row) => row[name] === wanted),
  });
}

export class MemoryStore {
  #stores = Object.fromEntries(["entries", "outbox", "attention", "photos", "images", "meta"].map(
    (name) => [name, new ObjectStore(new Map(), name !== "meta")]));

  /** @param {string} notebook */
  constructor(notebook) {
    this.put("meta", { id: notebook, number: 0, clock: "0000000000000000" }, "notebook");
    this.put("meta", [notebook], "notebooks");
  }

  transaction(names) {
    const [first] = [names].flat();
    const objectStore = (name) => this.#stores[name];
    return { objectStore, store: objectStore(first), done: Promise.resolve() };
  }

  get = (name, key) => this.#stores[name].get(key);
  getAll = (name) => this.#stores[name].getAll();
  put = (name, value, key) => this.#stores[name].put(value, key);
  delete = (name, key) => this.#stores[name].delete(key);
}
