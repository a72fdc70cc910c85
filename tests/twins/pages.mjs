// Pages in columns, turned back by the phone: one page per line in, its entries as a line out.
import { createInterface } from "node:readline";
import { entriesOf } from "../../client/sync/pages.js";

for await (const line of createInterface(process.stdin)) {
  process.stdout.write(`${JSON.stringify(entriesOf(JSON.parse(line)))}\n`);
}
