// Composes every case of the words corpus; prints a JSON list of texts, in the corpus's order.
import { readFileSync } from "node:fs";
import { compose } from "../../client/words.js";

const corpus = new URL("../corpus/words.json", import.meta.url);
const texts = JSON.parse(readFileSync(corpus, "utf-8")).map((one) => {
  const names = new Map(Object.entries(one.names));
  return compose(one.words, one.key, one.values, (id) => names.get(id), one.zone);
});
process.stdout.write(JSON.stringify(texts));
