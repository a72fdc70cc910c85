// Answers what the bundled decoder reads in pictures: each by width, height and grey values in
// base64, or null where it reads nothing. JSON in, JSON out.
import decodeQR from "../../build/client-packages/vendor/qr/decode.js";

let asked = "";
for await (const part of process.stdin) asked += part;
const texts = JSON.parse(asked).map(({ width, height, grey }) => {
  const values = Buffer.from(grey, "base64");
  const data = new Uint8ClampedArray(4 * values.length).fill(255);
  values.forEach((value, at) => data.fill(value, 4 * at, 4 * at + 3));
  try {
    return decodeQR({ width, height, data });
  } catch {
    return null;
  }
});
process.stdout.write(JSON.stringify(texts));
