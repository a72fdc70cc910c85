// @ts-check
// Reads QR codes in pictures: by the browser where it can, else by a decoder of our own, which is
// fetched only then.

/** @typedef {{detect(source: CanvasImageSource): Promise<{rawValue: string}[]>}} Detector */
/**
 * @typedef {{new (options: {formats: string[]}): Detector, getSupportedFormats(): Promise<string[]>}}
 *   DetectorClass
 */

const FORMAT = "qr_code";

/** @returns {Promise<(source: CanvasImageSource) => Promise<string | undefined>>} */
export async function makeReader() {
  const detector = (await browsersOwn()) ?? (await bundled());
  return async (source) => {
    const [found] = await detector.detect(source);
    return found?.rawValue;
  };
}

/** @returns {Promise<Detector | undefined>} */
async function browsersOwn() {
  const { BarcodeDetector: Own } = /** @type {{BarcodeDetector?: DetectorClass}} */ (globalThis);
  if (!Own) return undefined;
  // Where the system lacks the part that reads them, the class is there and reads nothing.
  const formats = await Own.getSupportedFormats();
  return formats.includes(FORMAT) ? new Own({ formats: [FORMAT] }) : undefined;
}

/** @returns {Promise<Detector>} */
async function bundled() {
  const { BarcodeDetector: Bundled } = await import("../vendor/qr/decode.js");
  return new Bundled({ formats: [FORMAT] });
}
