// @ts-check
// What the screens may ask for. Whatever fails is told to the person by a notice.
import { checkDetails } from "../log/check.js";
import { dismissAttention } from "../store/attention.js";
import { releaseRefused } from "../store/photos.js";
import { releaseHeld } from "../store/outbox.js";
import { SyncError } from "../sync/errors.js";
import { send } from "../sync/protocol.js";
import { askCalendars, makeCalendar, shutCalendar } from "./calendars.js";
import { freshId } from "./edge.js";
import { throwExampleAway } from "./example.js";
import { files } from "./files.js";
import { watchForGuest } from "./guest.js";
import { endPairing, joinGarden } from "./pairing.js";
import { photoActions } from "./photos.js";
import { prefer } from "./preferences.js";
import { askShed } from "./reports.js";
import { saveHeld } from "./talk.js";
import { walking } from "./walks.js";

/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Details} Details */
/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Subjects} Subjects */
/** @typedef {import("../garden.js").Garden} Garden */

/**
 * @param {Garden} garden
 * @param {() => void} applyUpdate
 * @returns {Actions}
 */
export function makeActions(garden, applyUpdate) {
  return {
    ...writing(garden),
    ...pairing(garden),
    ...files(garden),
    ...photoActions(garden),
    ...walking(garden),
    syncNow: async () => {
      await releaseHeld(garden.store);
      await releaseRefused(garden.store);
      await garden.loop.now();
    },
    dismiss: async (id) => {
      if (await dismissAttention(garden.store, id)) await garden.reload();
    },
    throwExampleAway: () => throwExampleAway(garden),
    askToKeep: () => garden.askToKeep(),
    prefer: (change) => prefer(garden, change),
    askShed: (name) => askShed(garden, name),
    applyUpdate,
    closeNotice: (id) => garden.closeNotice(id),
    redraw: () => garden.changed(),
    go: (hash) => {
      location.hash = hash;
    },
  };
}

/**
 * @param {Garden} garden
 * @returns {Pick<Actions, "record" | "makeBed" | "makePlanting" | "settle" | "decline" | "undo"
 *   | "restore" | "correct" | "mend" | "check">}
 */
function writing(garden) {
  const record = garden.record.bind(garden);
  return {
    record,
    makeBed: (details) => {
      const id = freshId();
      return record({ id, kind: "bed", subjects: { bed: id }, details });
    },
    makePlanting: (details, bed) => {
      const id = freshId();
      return record({ id, kind: "planting", subjects: { planting: id, bed }, details });
    },
    settle: (finding) => {
      if (!finding.settles) throw new Error(`${finding.key} has nothing that settles it`);
      const { kind, details } = finding.settles;
      const subjects = fitting(garden, kind, finding.subject);
      return record({ kind, subjects, details, answers: finding.key });
    },
    decline: (finding, reason) => {
      const subjects = fitting(garden, "decline", finding.subject);
      return record({ kind: "decline", subjects, details: { reason }, answers: finding.key });
    },
    undo: (rootId, reason) => {
      const subjects = fitting(garden, "void", garden.state.look.entry(rootId)?.subjects ?? {});
      return record({ kind: "void", subjects, details: { entry: rootId, reason } });
    },
    restore: (rootId) => {
      const last = garden.held.standing.mendings(rootId).find(({ kind }) => kind === "correct");
      const root = garden.state.look.entry(rootId);
      const told = last ? last.details.restated : root?.details;
      return correct(garden, rootId, /** @type {Details} */ (told ?? {}), {});
    },
    correct: (rootId, restated, change = {}) => correct(garden, rootId, restated, change),
    mend: (id, draft) => record({ ...draft, mends: id }),
    check: ({ kind, subjects = {}, details = {} }) => {
      const description = garden.state.look.kind(kind);
      if (!description) throw new Error(`no kind ${kind}`);
      return checkDetails(description, subjects, details, isMaking(garden, kind, subjects));
    },
  };
}

/**
 * Would the draft make a bed or planting that is not there yet?
 * @param {Garden} garden
 * @param {string} kind
 * @param {Subjects} subjects
 */
function isMaking({ state: { look } }, kind, { bed, planting }) {
  if (kind === "bed") return bed === undefined || look.bed(bed) === undefined;
  return kind === "planting" && (planting === undefined || look.planting(planting) === undefined);
}

/**
 * Restates an event; what the change leaves out stays as the event has it now.
 * @param {Garden} garden
 * @param {string} rootId
 * @param {Details} restated
 * @param {import("../types.js").Change} change
 */
function correct(garden, rootId, restated, change) {
  const root = garden.state.look.entry(rootId);
  if (!root) throw new Error(`no entry ${rootId}`);
  const now = garden.held.standing.latest(root);
  return garden.record({
    kind: "correct",
    subjects: change.subjects ?? now.subjects,
    happened_at: change.happened_at ?? now.happened_at,
    answers: now.answers,
    details: { entry: rootId, kind: root.kind, restated },
  });
}

/**
 * The subjects of a finding or an entry that a kind can have.
 * @param {Garden} garden
 * @param {string} kind
 * @param {Subjects} subjects
 * @returns {Subjects}
 */
function fitting(garden, kind, subjects) {
  const rule = garden.state.look.kind(kind)?.subjects;
  if (!rule) return subjects;
  return {
    bed: rule.bed === "none" ? undefined : subjects.bed,
    planting: rule.planting === "none" ? undefined : subjects.planting,
    plants: rule.plants === "none" ? undefined : subjects.plants,
  };
}

/**
 * @param {Garden} garden
 * @returns {Pick<Actions, "join" | "leave" | "invite" | "revokeDevice" | "askCalendars"
 *   | "makeCalendar" | "shutCalendar">}
 */
function pairing(garden) {
  const tell = telling(garden);
  const base = () => `/api/gardens/${garden.state.session?.garden.id}`;
  return {
    join: (code, deviceName) => tell(async () => {
      const { session } = garden.held;
      garden.closeNoticesOf("error.bad_code");
      if (session) await saveHeld(garden, session.garden.id);
      await joinGarden(garden.store, code, deviceName);
      await garden.reload();
      // The first pull may take long; it shows while the person is already in the garden.
      if (garden.held.route.name === "join") location.hash = "#/";
      await garden.loop.resume();
    }),
    leave: () => tell(async () => {
      await endPairing(garden.store);
      garden.loop.stop();
      await garden.reload();
    }),
    askCalendars: () => tell(() => askCalendars(garden)),
    makeCalendar: () => tell(() => makeCalendar(garden)),
    shutCalendar: (id) => tell(() => shutCalendar(garden, id)),
    invite: (name, role) => tell(async () => {
      const made = await send("POST", `${base()}/invitations`, { name, role });
      const invitation = /** @type {import("../types.js").Invitation} */ (made);
      garden.held.invitation = invitation;
      garden.changed();
      watchForGuest(garden, invitation);
    }),
    revokeDevice: (id) => tell(async () => {
      const name = garden.state.devices.find((device) => device.id === id)?.name ?? "";
      await send("DELETE", `${base()}/devices/${id}`);
      garden.notice("done", { key: "notice.shut_out", values: { name } });
      await garden.loop.now();
    }),
  };
}

/**
 * Runs what needs the shed; an error of the talk becomes a notice.
 * @param {Garden} garden
 * @returns {(ask: () => Promise<void>) => Promise<void>}
 */
function telling(garden) {
  return async (ask) => {
    try {
      await ask();
    } catch (error) {
      if (!(error instanceof SyncError)) throw error;
      garden.notice("trouble", { key: `error.${error.code}`, values: {} });
    }
  };
}
