// The phone's calculator of feeds: one JSON question a line in, one JSON answer a line out.
import { createInterface } from "node:readline";
import { reckonCompost, reckonFeed } from "../../client/rules/reckoning.js";

for await (const line of createInterface({ input: process.stdin })) {
  const { asked, compost } = JSON.parse(line);
  const told = asked ? reckonFeed(asked) : reckonCompost(...compost);
  process.stdout.write(`${JSON.stringify(told)}\n`);
}
