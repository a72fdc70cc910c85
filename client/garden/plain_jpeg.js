// @ts-check
// A browser may write segments of its own into the JPEG that it draws. The shed takes pixels and what
// is needed to show them, so everything else is left out. Source: ITU-T T.81, annex B.

const MARK = 0xff;
const BEGINS_BYTES = 2;
const SCAN = 0xda;
const COMMENT = 0xfe;
const FIRST_APP = 0xe0;
const LAST_APP = 0xef;
/** Density, a colour profile, the way colours are coded. */
const KEPT_APPS = [0xe0, 0xe2, 0xee];

/**
 * The same picture without comments and without what programs say about it.
 * @param {ArrayBuffer} image a whole JPEG
 * @returns {ArrayBuffer}
 */
export function plainJpeg(image) {
  const bytes = new Uint8Array(image);
  /** @type {Uint8Array[]} */
  const kept = [bytes.subarray(0, BEGINS_BYTES)];
  let place = BEGINS_BYTES;
  while (place + 3 < bytes.length && bytes[place] === MARK && bytes[place + 1] !== SCAN) {
    const marker = bytes[place + 1];
    const end = place + 2 + ((bytes[place + 2] << 8) | bytes[place + 3]);
    if (!isAside(marker)) kept.push(bytes.subarray(place, end));
    place = end;
  }
  kept.push(bytes.subarray(place));
  return joined(kept);
}

/** @param {number} marker */
const isAside = (marker) =>
  marker === COMMENT
  || (marker >= FIRST_APP && marker <= LAST_APP && !KEPT_APPS.includes(marker));

/** @param {Uint8Array[]} parts */
function joined(parts) {
  const whole = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let place = 0;
  for (const part of parts) {
    whole.set(part, place);
    place += part.length;
  }
  return whole.buffer;
}
