// @ts-check
// Files that carry what the shed has not got from one phone to another.
import { adoptEntries } from "../store/entries.js";
import { readUnsent } from "../store/outbox.js";
import { photoOf, unsentPhotos } from "../store/photos.js";
import { saveFile } from "./edge.js";
import { unlessTaken } from "./not_saved.js";
import { isLiftingForbidden } from "./permission.js";
import { fromPhotoLine, toPhotoLine } from "./photo_lines.js";
import { fromLines, toLines } from "./transfer.js";

/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Entry} Entry */
/** @typedef {import("../garden.js").Garden} Garden */

/**
 * @param {Garden} garden
 * @returns {Pick<Actions, "exportUnsent" | "exportEntry" | "importEntries">}
 */
export function files(garden) {
  return {
    exportUnsent: async () => {
      const notTaken = garden.state.attention.filter(
        (row) => !row.mended_by && (row.result === "refused" || row.result === "set_aside"));
      const all = [
        ...(await unlessTaken(() => readUnsent(garden.store))),
        ...notTaken.map((row) => row.entry),
        ...garden.pen.unsavedWhole(),
      ];
      const photos = await unlessTaken(() => photoLines(garden));
      photos.push(...garden.pen.unsavedPhotos().map(toPhotoLine));
      saveFile("shedbook-unsent.jsonl", toLines([...all, ...photos]));
    },
    exportEntry: async (id) => {
      // What was not taken may lie under an id that another entry of the log has.
      const notTaken = garden.state.attention.find((row) => row.id === id);
      const entry = notTaken?.entry ?? (await garden.store.get("entries", id));
      if (entry) saveFile(`shedbook-${id}.jsonl`, toLines([entry]));
    },
    importEntries: async (file) => {
      const { session, kinds, look } = garden.state;
      const mayWrite = (/** @type {Entry} */ entry) =>
        !isLiftingForbidden(entry, session, look);
      const rules = { garden: session?.garden.id ?? "", kinds, mayWrite };
      const read = fromLines(await file.text(), rules);
      const { photos, broken } = await readPhotos(read.photos, look.kind("photo")?.fields ?? []);
      const leftOut = [...read.leftOut, ...broken];
      const adopted = await adoptEntries(garden.store, read.entries, photos);
      await garden.takeIn(adopted);
      garden.loop.soon();
      if (adopted.length || !leftOut.length) {
        garden.notice("done", { key: "notice.imported", values: { count: adopted.length } });
      }
      if (leftOut.length) {
        const [{ line, why }] = leftOut;
        const values = { count: leftOut.length, line, why: saidOf(garden, why) };
        garden.notice("trouble", { key: "error.lines_left_out", values });
      }
      return adopted.length;
    },
  };
}

/** @param {Garden} garden */
async function photoLines({ store }) {
  const lines = [];
  for await (const photo of unsentPhotos(store)) lines.push(toPhotoLine(photo));
  return lines;
}

/** @type {import("./transfer.js").Why} */
const DAMAGED = { path: "", message: { key: "error.photo_damaged", values: {} } };

/**
 * @param {ReturnType<typeof fromLines>["photos"]} lines
 * @param {import("../types.js").FieldDescription[]} fields
 */
async function readPhotos(lines, fields) {
  const photos = [];
  const broken = [];
  for (const { line, photo } of lines) {
    const whole = await fromPhotoLine(photo, fields);
    if (whole) photos.push(photoOf(photo.garden, whole, "waiting", Date.now()));
    else broken.push({ line, why: DAMAGED });
  }
  return { photos, broken };
}

/**
 * A field's word before what is wrong with it.
 * @param {Garden} garden
 * @param {import("./transfer.js").Why} why
 */
function saidOf({ state }, { path, message }) {
  const field = state.sayIf(`field.${path.replace(/^.*\./, "")}`);
  const said = state.say(message.key, message.values);
  return field === null ? said : `${field}: ${said}`;
}
