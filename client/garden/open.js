// @ts-check
// Opens the garden of this phone: its store, its words and rules, and all that is written in it.
import { Garden } from "../garden.js";
import { readBook } from "../store/book.js";
import { openStore } from "../store/open.js";
import { IS_EXAMPLE } from "../store/which.js";
import { freshId, loadAssets } from "./edge.js";
import { fillExample } from "./example.js";
import { readPreferences } from "./preferences.js";
import { Tabs } from "./tabs.js";

/** Reads the phone's store, and builds the ledger; there are findings by then, kept or fresh. */
export async function openGarden() {
  /** @type {Garden | undefined} */
  let garden;
  let isOutdated = false;
  const store = await openStore(freshId(), () => garden?.offerUpdate());
  if (IS_EXAMPLE) await fillExample(store);
  const tabs = new Tabs((told) => {
    if (garden) void garden.hear(told);
    else isOutdated = true;
  });
  // The disk is at work while the page fetches its words and rules.
  const reading = readBook(store);
  const preferences = await readPreferences(store);
  const assets = await loadAssets(preferences.language);
  let book = await reading;
  // What another tab has stored meanwhile may or may not be in what was read.
  while (isOutdated) {
    isOutdated = false;
    book = await readBook(store);
  }
  garden = new Garden(store, tabs, assets, preferences);
  await garden.load(book);
  return garden;
}
