// The phone's findings while entries come in and between two openings of the page: one JSON request
// in, one JSON answer out.
import { readFileSync } from "node:fs";
import { MemoryStore } from "./memory_store.mjs";
import { Standing } from "../../client/garden/standing.js";

const { makeKeeper, recallFindings } = await import("../../client/garden/kept_findings.js");

// Every step ends a piece, and no time is waited.
let clock = 0;
performance.now = () => (clock += 1000);
const turn = () => new Promise((done) => setImmediate(done));
const later = globalThis.setTimeout;
globalThis.setTimeout = (work, ms) => later(work, Math.min(ms ?? 0, 1));

const told = (standing) => [...standing.findings].sort(([one], [other]) => (one < other ? -1 : 1));

/** Batches come in while the rules are still at work on those before. */
async function inBetween({ batches, rulebook, present }) {
  const standing = new Standing(rulebook);
  standing.start(batches[0]);
  let open = 1;
  let overlaps = 0;
  const settle = () => { open -= 1; };
  const all = [standing.review(present).then(settle)];
  for (const batch of batches.slice(1)) {
    await turn();
    if (open) overlaps += 1;
    open += 1;
    all.push(standing.add(batch, present).then(settle));
  }
  await Promise.all(all);
  return { findings: told(standing), overlaps, isWhole: standing.isWhole };
}

/** What is kept in a store whose phone is in the garden `here`. */
async function keptIn(standing, here) {
  const store = new MemoryStore("notebook");
  if (here) await store.put("meta", { garden: { id: here } }, "session");
  makeKeeper(store)(standing, "home");
  await new Promise((done) => setTimeout(done));
  for (let turns = 0; turns < 10; turns += 1) await turn();
  return store.get("meta", "findings");
}

/** While all subjects wait an entry comes: which of them have their turn before what it touches? */
async function turnsBefore({ entries, added, touched, rulebook, present }) {
  const standing = await reviewed(entries, rulebook, present);
  const old = new Map(standing.findings);
  const hasTurned = (key) => standing.findings.get(key) !== old.get(key);
  const all = [standing.review(present), standing.add([added], present)];
  while (!hasTurned(touched)) await turn();
  const earlier = [...old.keys()].filter((key) => key !== touched && hasTurned(key));
  await Promise.all(all);
  return { earlier, subjects: old.size };
}

/** What a page keeps, and whether another takes it up under each of the changes. */
async function keptFor({ entries, rulebook, present, openings }) {
  const standing = await reviewed(entries, rulebook, present);
  const kept = await keptIn(standing, "home");
  return openings.map((change) => {
    const other = new Standing(change.rulebook ?? rulebook);
    other.start(change.entries ?? entries);
    const isTaken = recallFindings(kept, other, change.present ?? present);
    return { isTaken, findings: told(other), as: told(standing) };
  });
}

async function reviewed(entries, rulebook, present) {
  const standing = new Standing(rulebook);
  standing.start(entries);
  await standing.review(present);
  return standing;
}

/** In which of the gardens the findings of "home" are kept. */
async function keptWhere({ entries, rulebook, present, gardens }) {
  const standing = await reviewed(entries, rulebook, present);
  const kept = [];
  for (const here of gardens) kept.push((await keptIn(standing, here)) !== undefined);
  return kept;
}

const request = JSON.parse(readFileSync(0, "utf-8"));
const scenarios = { inBetween, turnsBefore, keptFor, keptWhere };
const answer = await scenarios[request.scenario](request);
process.stdout.write(JSON.stringify(answer));
