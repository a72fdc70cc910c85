// @ts-check
// Makes a picture ready for the log: small, upright, a JPEG, and without what a camera writes into
// its files. Drawing it anew keeps the pixels alone, so the place it was taken at is gone for good.

import { digestOf } from "../store/digest.js";
import { plainJpeg } from "./plain_jpeg.js";

/** @typedef {import("../types.js").Picture} Picture */

/** Well below what the shed takes, so that no picture is refused for its size. */
export const LONGEST_PX = 1600;
export const MOST_BYTES = 450_000;

export const PHOTO_TYPE = "image/jpeg";
const QUALITIES = [0.85, 0.75, 0.65, 0.5, 0.35];
const SMALLER = 0.7;
const LEAST_PX = 16;

/** Thrown when a file is no picture that this browser can read. */
export class NoPictureInFile extends Error {
  /** @param {unknown} [cause] */
  constructor(cause) {
    super("no_picture_in_file", { cause });
    this.name = "NoPictureInFile";
  }
}

/**
 * How large a picture is drawn: its own shape, no longer than allowed, never larger than it is.
 * @param {number} width_px
 * @param {number} height_px
 * @param {number} longest_px
 */
export function fittedSize(width_px, height_px, longest_px) {
  const scale = Math.min(1, longest_px / Math.max(width_px, height_px));
  const fit = (/** @type {number} */ side) => Math.max(1, Math.round(side * scale));
  return { width_px: fit(width_px), height_px: fit(height_px) };
}

/**
 * @param {Blob} file any picture that the browser can read
 * @returns {Promise<Picture>}
 */
export async function shrinkPicture(file) {
  const drawn = await readUpright(file);
  try {
    for (let longest = LONGEST_PX; longest >= LEAST_PX; longest *= SMALLER) {
      const picture = await fitting(drawn, longest);
      if (picture) return picture;
    }
  } finally {
    drawn.close();
  }
  throw new NoPictureInFile();
}

/** @param {Blob} file */
async function readUpright(file) {
  try {
    return await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch (error) {
    throw new NoPictureInFile(error);
  }
}

/**
 * The picture at the best quality that is small enough, if there is one at this size.
 * @param {ImageBitmap} drawn
 * @param {number} longest_px
 * @returns {Promise<Picture | undefined>}
 */
async function fitting(drawn, longest_px) {
  const { width_px, height_px } = fittedSize(drawn.width, drawn.height, longest_px);
  const canvas = document.createElement("canvas");
  Object.assign(canvas, { width: width_px, height: height_px });
  const pen = canvas.getContext("2d");
  if (!pen) throw new NoPictureInFile();
  // A JPEG has no glass: what was see-through would come out black.
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, width_px, height_px);
  pen.imageSmoothingQuality = "high";
  pen.drawImage(drawn, 0, 0, width_px, height_px);
  for (const quality of QUALITIES) {
    const blob = await /** @type {Promise<Blob | null>} */ (
      new Promise((done) => canvas.toBlob(done, PHOTO_TYPE, quality)));
    if (blob === null || blob.type !== PHOTO_TYPE || blob.size > MOST_BYTES) continue;
    const image = plainJpeg(await blob.arrayBuffer());
    const sha256 = await digestOf(image);
    return { sha256, type: PHOTO_TYPE, bytes: image.byteLength, width_px, height_px, image };
  }
  return undefined;
}
