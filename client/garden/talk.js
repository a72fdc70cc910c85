// @ts-check
// One talk of this garden with the shed, and what becomes of it.
import { advance } from "../log/clock.js";
import { DIGEST } from "../served.js";
import { readMeta } from "../store/meta.js";
import { IS_EXAMPLE } from "../store/which.js";
import { exchangePhotos } from "../sync/photos.js";
import { exchange } from "../sync/protocol.js";
import { runRound } from "../sync/round.js";
import { freshId } from "./edge.js";
import { renewSession } from "./pairing.js";
import { tellWrongClock } from "./wrong_clock.js";

const AFTER_ANOTHER_TAB_MS = 2_000;

/**
 * What was held in memory is written down first, so that it goes over too.
 * @param {import("../garden.js").Garden} garden
 */
export async function talkWithShed(garden) {
  // What is written in the example is for nobody else.
  if (IS_EXAMPLE) return;
  const { store } = garden;
  const session = await readMeta(store, "session");
  if (!session) return;
  const { id } = session.garden;
  await saveHeld(garden, id);
  await runRound({
    store,
    garden: id,
    exchange: (request) => exchange(id, request),
    nowMs: Date.now,
    newId: freshId,
    advance: (clock, seen) => advance(clock, seen, Date.now()),
    onCommitted: async ({ changed, foldShrank }) => {
      if (foldShrank) await garden.reload();
      else if (changed.length) await garden.takeIn(changed);
      else await garden.recount();
    },
  });
  garden.held.session = (await renewSession(store, Date.now())) ?? garden.held.session;
  await garden.recount();
  tellWrongClock(garden);
  await exchangePhotos({
    store,
    garden: id,
    isInterrupted: () => garden.loop.isAskedAgain,
    onChanged: () => garden.recount(),
  });
  const { heard } = garden.held;
  if (heard && heard.assets !== DIGEST) await garden.onNewAssets();
}

/**
 * Another tab wrote these, and may be closed before it sends them.
 * @param {import("../garden.js").Garden} garden
 * @param {readonly import("../types.js").Entry[]} entries
 */
export function talkIfTheyStillWait(garden, entries) {
  setTimeout(() => {
    if (entries.some(({ id }) => garden.held.waitingIds.has(id))) garden.loop.soon();
  }, AFTER_ANOTHER_TAB_MS);
}

/**
 * Writes down what was held in memory.
 * @param {import("../garden.js").Garden} garden
 * @param {string} id of the garden that this phone belongs to
 */
export async function saveHeld(garden, id) {
  const saved = await garden.pen.saveRest(id);
  if (!saved.length) return;
  await garden.takeIn(saved);
  if (garden.pen.unsaved.length) return;
  garden.closeNoticesOf("error.not_saved");
  garden.notice("done", { key: "notice.saved_after_all", values: {} });
}
