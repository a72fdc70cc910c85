// Answers what client/garden/tag_codes.js makes of the keys and texts asked for; JSON in, JSON out.
import { keysOf, makeCodes, readCode, spaced } from "../../client/garden/tag_codes.js";

let asked = "";
for await (const part of process.stdin) asked += part;
const { keys = [], texts = [], bodies = [] } = JSON.parse(asked);
const codes = makeCodes(keys);
process.stdout.write(JSON.stringify({
  codes: keys.map((key) => codes.get(key)),
  spaced: keys.map((key) => spaced(codes.get(key))),
  read: texts.map(readCode),
  found: bodies.map((body) => keysOf(keys, body)),
}));
