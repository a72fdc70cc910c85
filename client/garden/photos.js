// @ts-check
// What the screens may ask about photos: making one ready, writing it down, seeing it again.
import { cachePhoto, findPhoto } from "../store/photos.js";
import { SyncError } from "../sync/errors.js";
import { fetchPhoto } from "../sync/photos.js";
import { writtenOrHeld } from "./not_saved.js";
import { photoDetails } from "./pen.js";
import { NoPictureInFile, shrinkPicture } from "./photo_shrinking.js";

/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").NoPicture} NoPicture */
/** @typedef {import("../garden.js").Garden} Garden */

/** In these phases of the talk with the shed, asking it for a picture is no use. */
const OUT_OF_REACH = new Set(["unreachable", "not_paired", "revoked"]);

/**
 * @param {Garden} garden
 * @returns {Pick<Actions, "shrinkPicture" | "addPhoto" | "findPicture">}
 */
export function photoActions(garden) {
  /** One at a time: a page full of pictures must not crowd out an entry. @type {Promise<unknown>} */
  let last = Promise.resolve();
  return {
    shrinkPicture: (file) => shrunk(garden, file),
    addPhoto: async (file, subjects, shows) => {
      const picture = await shrunk(garden, file);
      if (!picture) return;
      const details = photoDetails(picture, shows);
      const draft = { kind: "photo", subjects, details, pictures: [picture] };
      await writtenOrHeld(garden.record(draft));
    },
    findPicture: async (sha256) => {
      const own = await ownPicture(garden, sha256);
      if (own) return own;
      const fetched = last.then(() => fetchedPicture(garden, sha256));
      last = fetched;
      return fetched;
    },
  };
}

/**
 * @param {Garden} garden
 * @param {File} file
 */
async function shrunk(garden, file) {
  // Plain http on the LAN has no digests, by which phone and shed know a picture.
  if (!globalThis.crypto?.subtle) {
    garden.notice("trouble", { key: "error.photo_needs_https", values: {} });
    return undefined;
  }
  try {
    return await shrinkPicture(file);
  } catch (error) {
    if (!(error instanceof NoPictureInFile)) throw error;
    garden.notice("trouble", { key: "error.no_picture_in_file", values: {} });
    return undefined;
  }
}

/**
 * From the store, or from what storage refused and is held in memory.
 * @param {Garden} garden
 * @param {string} sha256
 */
async function ownPicture({ store, pen, held }, sha256) {
  const photo = (await findPhoto(store, held.session?.garden.id ?? "", sha256))
    ?? pen.unsavedPhotos().find(({ row }) => row.sha256 === sha256);
  return photo && new Blob([photo.image], { type: photo.row.type });
}

/**
 * @param {Garden} garden
 * @param {string} sha256
 * @returns {Promise<Blob | NoPicture>}
 */
async function fetchedPicture({ store, held }, sha256) {
  if (!held.session || OUT_OF_REACH.has(held.sync.phase)) return "away";
  try {
    const photo = await fetchPhoto(held.session.garden.id, sha256, Date.now());
    if (!photo) return "not_sent";
    // Seen without being kept is better than not seen: storage may be full.
    await cachePhoto(store, photo).catch(() => undefined);
    return new Blob([photo.image], { type: photo.row.type });
  } catch (error) {
    if (!(error instanceof SyncError)) throw error;
    return "away";
  }
}
