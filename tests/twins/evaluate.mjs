// Answers each JSON line of its input with one: findings of a view or of a whole garden, what may
// follow in a bed, or what is withheld. The first line that holds a rulebook sets it for the lines that bring none.
import { createInterface } from "node:readline";
import { Ledger } from "../../client/log/ledger.js";
import { evaluate } from "../../client/rules/evaluate.js";
import { followers } from "../../client/rules/followers.js";
import { findingsOfGarden } from "../../client/rules/garden.js";
import { withheld } from "../../client/rules/withheld.js";

let shared = null;

function answer(asked) {
  const rulebook = asked.rulebook ?? shared;
  if (asked.crops) {
    const { view, today, now, day, crops, own } = asked;
    return followers(view, rulebook, today, now, day, crops, new Set(own));
  }
  if (asked.view) return evaluate(asked.view, rulebook, asked.today, asked.now);
  if (asked.entries) {
    const ledger = new Ledger();
    ledger.add(asked.entries);
    return findingsOfGarden(ledger, rulebook, asked.today, asked.now);
  }
  if (asked.findings) {
    const { findings, kind, now, known_at: knownAt, stale_after_s: staleAfterS } = asked;
    return withheld(findings, kind, now, knownAt, staleAfterS);
  }
  shared = rulebook;
  return null;
}

for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(`${JSON.stringify(answer(JSON.parse(line)))}\n`);
}
