// Answers each JSON line of its input with one: the ranking of troubles for a list of signs, or the
// weather that a view's events tell of. The first line brings the rulebook.
import { createInterface } from "node:readline";
import { couldBe } from "../../client/rules/troubles.js";
import { stageOf, weatherFeatures } from "../../client/rules/weather_features.js";

let rulebook = null;

function answer(asked) {
  if (asked.rulebook) {
    rulebook = asked.rulebook;
    return null;
  }
  if (asked.events) {
    const { events, bed, planting, today, days } = asked;
    return [weatherFeatures(events, bed, today, days), stageOf(planting)];
  }
  return couldBe(rulebook, asked.crop, asked.own_crops, asked.seen, asked.at);
}

for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(`${JSON.stringify(answer(JSON.parse(line)))}\n`);
}
