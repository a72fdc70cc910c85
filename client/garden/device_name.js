// @ts-check
// A name for this device that the lead can tell from others; the person may type a better one.

/** What a browser says of what it runs on, the most telling first; it names no model. */
const TOLD = /** @type {const} */ ([
  [/iPhone/, "iphone"],
  [/iPad/, "ipad"],
  [/Android.*Mobile/, "android_phone"],
  [/Android/, "android_tablet"],
  [/CrOS/, "chromebook"],
  [/Windows/, "windows"],
  [/Macintosh/, "mac"],
  [/Linux/, "linux"],
]);

/** @param {import("../types.js").State["say"]} say */
export function guessDeviceName(say) {
  const { userAgent, maxTouchPoints } = navigator;
  const [, kind] = TOLD.find(([pattern]) => pattern.test(userAgent)) ?? [null, "other"];
  // An iPad calls itself a Mac; no Mac has a touch screen.
  return say(`device.${kind === "mac" && maxTouchPoints > 1 ? "ipad" : kind}`);
}
