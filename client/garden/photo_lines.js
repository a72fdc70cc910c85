// @ts-check
// Photos on their way without a network: lines of the same file as the entries, the bytes in base64.
import { digestOf } from "../store/digest.js";

/** @typedef {import("../store/photos.js").Photo} Photo */
/** @typedef {import("../types.js").FieldDescription} FieldDescription */
/** @typedef {{garden: string, sha256: string, type: string, image_base64: string}} PhotoLine */

const CHUNK = 0x8000;

/**
 * @param {Photo} photo
 * @returns {PhotoLine}
 */
export function toPhotoLine({ row: { garden, sha256, type }, image }) {
  const bytes = new Uint8Array(image);
  let text = "";
  for (let at = 0; at < bytes.length; at += CHUNK) {
    text += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  }
  return { garden, sha256, type, image_base64: btoa(text) };
}

/**
 * The line as a photo's, if it is one.
 * @param {object} line
 * @returns {PhotoLine | undefined}
 */
export function asPhotoLine(line) {
  const named = new Map(Object.entries(line));
  const isPhoto = ["garden", "sha256", "type", "image_base64"].every(
    (name) => typeof named.get(name) === "string");
  return isPhoto ? /** @type {PhotoLine} */ (line) : undefined;
}

/**
 * The picture of a line; undefined unless it is whole, and of a type and size that the log has.
 * @param {PhotoLine} line
 * @param {FieldDescription[]} fields of a photo's entry
 */
export async function fromPhotoLine({ sha256, type, image_base64 }, fields) {
  const about = (/** @type {string} */ name) => fields.find((field) => field.name === name);
  const image = bytesOf(image_base64);
  const mostBytes = about("bytes")?.max ?? 0;
  const isType = about("type")?.choices?.includes(type) ?? false;
  if (!image || !isType || image.byteLength > mostBytes) return undefined;
  if ((await digestOf(image)) !== sha256) return undefined;
  return { sha256, type, image };
}

/** @param {string} text */
function bytesOf(text) {
  try {
    return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;
  } catch {
    return undefined;
  }
}
