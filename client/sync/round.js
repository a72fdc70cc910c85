// @ts-check
// One round: push what waits, pull what is new, until neither side has more.
import { TRUSTED_AHEAD_MS } from "../log/clock.js";
import { commitExchange } from "../store/exchange.js";
import { readMeta } from "../store/meta.js";
import {
  findGivenUp, hasLost, holdEntry, nextBatch, readWaiting, renumberUnsent,
  requeueEntries,
} from "../store/outbox.js";
import { NO_PROGRESS, SERVER_FAILED, SyncError } from "./errors.js";

/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../store/schema.js").Store} Store */
/** @typedef {import("../store/schema.js").Cursor} Cursor */
/** @typedef {import("./protocol.js").SyncRequest} SyncRequest */
/** @typedef {import("./protocol.js").SyncResponse} SyncResponse */
/** @typedef {{notebook: string, numbers: number[]}} GivenUp */

const MOST_ENTRIES = 200;
const MOST_BYTES = 700_000;
const PAGE = 2000;

/**
 * @typedef {object} RoundPorts what a round needs from outside
 * @property {Store} store
 * @property {string} garden
 * @property {(request: SyncRequest) => Promise<SyncResponse>} exchange
 * @property {() => number} nowMs
 * @property {() => string} newId
 * @property {(clock: string, seen: string) => string} advance
 * @property {(committed: import("../store/exchange.js").Committed) => Promise<void>} onCommitted
 */

/**
 * @param {RoundPorts} ports
 * @returns {Promise<void>}
 */
export async function runRound(ports) {
  let most = MOST_ENTRIES;
  let hasLookedForLost = false;
  /** @type {GivenUp | null} */
  let givenUp = null;
  for (;;) {
    const batch = await nextBatch(ports.store, ports.garden, { count: most, bytes: MOST_BYTES });
    const request = await requestFor(ports, batch, givenUp);
    let response;
    try {
      response = await patientExchange(ports, request);
    } catch (error) {
      if (error instanceof SyncError && error.isFromDisk) await readOn(ports);
      most = await narrowed(ports, batch, error);
      continue;
    }
    most = Math.min(MOST_ENTRIES, most * 2);
    if (isAnotherLog(request, response)) {
      await startOver(ports, response);
    } else if (await takeIn(ports, request, response)) {
      // Once a round, so that a shed which never counts right cannot keep it going.
      if (hasLookedForLost || !(await isLooking(ports, response))) return;
      hasLookedForLost = true;
      givenUp = await findLost(ports, response);
    }
  }
}

/**
 * @param {RoundPorts} ports
 * @param {Entry[]} batch
 * @param {GivenUp | null} [givenUp]
 * @returns {Promise<SyncRequest>}
 */
async function requestFor({ store, garden }, batch, givenUp) {
  const [current, position, waiting] = await Promise.all([
    readMeta(store, "notebook"), readMeta(store, "cursor"), readWaiting(store),
  ]);
  const known = position?.garden === garden ? position : undefined;
  const notebook = batch[0]?.notebook ?? current?.id ?? "";
  return {
    notebook,
    entries: batch,
    cursor: known?.cursor ?? 0,
    epoch: known?.epoch ?? null,
    // What will still wait once this request is through.
    waiting: waiting.filter((row) => row.garden === garden).length - batch.length,
    page: PAGE,
    ...(givenUp?.notebook === notebook && { given_up: givenUp.numbers }),
  };
}

/**
 * Was the shed put back to an earlier state? It says so by another epoch; one whose files were
 * copied back does not, but its log ends before the place that this phone has read up to.
 * @param {SyncRequest} request
 * @param {SyncResponse} response
 */
const isAnotherLog = ({ epoch, cursor }, response) =>
  (epoch !== null && response.epoch !== epoch) || response.head < cursor;

/**
 * One failure of the shed may be chance; the second in a row is told.
 * @param {RoundPorts} ports
 * @param {SyncRequest} request
 */
async function patientExchange({ exchange }, request) {
  try {
    return await exchange(request);
  } catch (error) {
    if (!(error instanceof SyncError) || error.code !== SERVER_FAILED) throw error;
    return exchange(request);
  }
}

/**
 * A shed that can't store can still be read: the news comes over before the failure is told.
 * @param {RoundPorts} ports
 */
async function readOn(ports) {
  for (;;) {
    const request = await requestFor(ports, []);
    const response = await ports.exchange(request);
    if (isAnotherLog(request, response)) return;
    const isDone = await takeIn(ports, request, response);
    if (isDone || response.cursor >= response.head) return;
  }
}

/**
 * After a failure that the batch may have caused: half of it. A single entry is held, and shown,
 * once a request without it gets through; if that fails too, the entry is not to blame.
 * @param {RoundPorts} ports
 * @param {Entry[]} batch
 * @param {unknown} error
 */
async function narrowed(ports, batch, error) {
  if (!(error instanceof SyncError) || !error.mayBeTheBatch || !batch.length) throw error;
  if (batch.length > 1) return Math.floor(batch.length / 2);
  const request = await requestFor(ports, []);
  const response = await ports.exchange({ ...request, notebook: batch[0].notebook });
  await holdEntry(ports.store, batch[0].id, error.code, ports.nowMs());
  if (!isAnotherLog(request, response)) await takeIn(ports, request, response);
  return MOST_ENTRIES;
}

/**
 * @param {RoundPorts} ports
 * @param {SyncRequest} request
 * @param {SyncResponse} response
 * @returns {Promise<boolean>} whether both sides have everything
 */
async function takeIn(ports, request, response) {
  const { store, garden, nowMs } = ports;
  const { answers, entries, cursor, epoch, head } = response;
  const now = nowMs();
  const before = await readMeta(store, "heard");
  const isCurrent = cursor >= head;
  const heard = {
    lastSyncMs: now,
    knownAtMs: isCurrent ? now : (before?.knownAtMs ?? null),
    devices: response.devices,
    people: response.people,
    missing: response.notebook.missing,
    clockOff: clockOff(now, response.server_time_ms),
    assets: response.assets,
    role: response.you.role,
  };
  const asked = { garden, cursor: request.cursor, epoch: request.epoch };
  const place = { garden, epoch, cursor };
  const brought = { asked, answers, entries, cursor: place, heard, now_ms: now };
  const committed = await commitExchange(store, brought, ports.advance);
  // Another tab reads on from where it got to; a phone that left has nothing to ask any more.
  if (committed === null) return (await readMeta(store, "session"))?.garden.id !== garden;
  const forked = answers.some((answer) => answer.result === "forked");
  if (forked) await renumberUnsent(store, request.notebook, ports.newId());
  await ports.onCommitted(committed);
  const answered = new Set(answers.map((answer) => answer.id));
  const moved = cursor > request.cursor || forked;
  if (!moved && request.entries.length && !request.entries.some(({ id }) => answered.has(id))) {
    throw new SyncError(NO_PROGRESS);
  }
  const rest = await nextBatch(store, garden, { count: 1, bytes: MOST_BYTES });
  return isCurrent && !rest.length;
}

/**
 * Is there anything that the shed should have of this phone's notebook, and has not?
 * @param {RoundPorts} ports
 * @param {SyncResponse} response
 */
async function isLooking({ store, garden }, { notebook }) {
  const session = await readMeta(store, "session");
  if (session?.garden.id !== garden) return false;
  return notebook.missing.length > 0 || (await isShort(store, garden, notebook));
}

/**
 * Has this phone been answered for entries above the last that the shed has? Then the shed was put
 * back, and has grown past the phone's place since.
 * @param {Store} store
 * @param {string} garden
 * @param {import("./protocol.js").NotebookState} notebook
 */
async function isShort(store, garden, { id, highest }) {
  const current = await readMeta(store, "notebook");
  if (highest === undefined || current?.id !== id || current.number <= highest) return false;
  return hasLost(store, garden, id, (number) => number > highest);
}

/**
 * Sends again what the shed misses although this phone has it, and tells what it will never get.
 * @param {RoundPorts} ports
 * @param {SyncResponse} response
 * @returns {Promise<GivenUp>}
 */
async function findLost(ports, response) {
  const { store, garden } = ports;
  const { id, missing } = response.notebook;
  if (await isShort(store, garden, response.notebook)) await startOver(ports, response);
  else await requeueEntries(store, id, (number) => missing.includes(number));
  return { notebook: id, numbers: await findGivenUp(store, id, missing) };
}

/**
 * The shed was restored: its log is another one. Read it from the start, and give it again what of
 * every notebook of this phone it has lost.
 * @param {RoundPorts} ports
 * @param {SyncResponse} response
 */
async function startOver(ports, { epoch }) {
  const { store, garden, exchange } = ports;
  const notebooks = (await readMeta(store, "notebooks")) ?? [];
  const fresh = { cursor: 0, epoch, entries: [], waiting: 0, page: 1 };
  for (const notebook of notebooks) {
    const { unbroken } = (await exchange({ ...fresh, notebook })).notebook;
    await requeueEntries(store, notebook, (number) => number > unbroken);
  }
  // Put back without a new epoch, it may lack photos all the same.
  await store.delete("meta", "photosAt");
  await store.put("meta", { garden, epoch, cursor: 0 }, "cursor");
}

/**
 * @param {number} phone
 * @param {number} shed
 */
function clockOff(phone, shed) {
  const off = phone - shed;
  return Math.abs(off) > TRUSTED_AHEAD_MS ? Math.round(off / 1000) : null;
}
