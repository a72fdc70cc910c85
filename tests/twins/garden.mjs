// The running garden's parts that need no browser: one JSON request in, one JSON answer out.
import { readFileSync } from "node:fs";
import { makeLook } from "../../client/garden/look.js";
import { isFaulty } from "../../client/garden/soundness.js";
import { Standing } from "../../client/garden/standing.js";
import { Ledger } from "../../client/log/ledger.js";
import { fromLines } from "../../client/garden/transfer.js";

/** From now on every ledger breaks down at this entry once it holds the other. */
function breakAt({ entry, after }) {
  const add = Ledger.prototype.add;
  const seen = new WeakMap();
  Ledger.prototype.add = function (entries) {
    const ids = [...(seen.get(this) ?? []), ...entries.map(({ id }) => id)];
    seen.set(this, ids);
    if (ids.includes(entry) && ids.includes(after)) throw new TypeError("broken");
    return add.call(this, entries);
  };
}

/** From now on every step of the rules ends a piece. */
function takeLong() {
  let clock = 0;
  performance.now = () => (clock += 1000);
}

/**
 * What a garden of these entries says; what is `later` is taken in once it stands. It is asked while
 * the rules are at work when that `is_early`.
 */
async function stand({
  entries, later = [], attention = [], rulebook, kinds, day, now, ask, known_at, is_early = false,
}) {
  const standing = new Standing(rulebook);
  standing.start(entries);
  if (is_early) takeLong();
  const reviewed = standing.review({ day, instant: now });
  if (!is_early) await reviewed;
  if (later.length) await standing.add(later, { day, instant: now });
  const present = { now, knownAtMs: known_at * 1000, waiting: new Set(), attention };
  const look = makeLook(standing, kinds, present);
  return {
    beds: standing.ledger.beds().map((bed) => bed.name),
    events: standing.events().map((event) => event.id),
    faulty: standing.untold().filter(isFaulty).map((entry) => entry.id),
    untold: standing.untold().map((entry) => entry.id),
    broken: [...standing.broken.keys()],
    withheld: (ask ?? []).map(([kind, subjects]) => look.withheld(kind, subjects)),
  };
}

/** What a file of lines comes to; `barred` names entries that the person may not write. */
function take({ text, garden, kinds, barred = [] }) {
  const mayWrite = (entry) => !barred.includes(entry.id);
  const { entries, leftOut } = fromLines(text, { garden, kinds, mayWrite });
  const said = leftOut.map(({ line, why }) => [line, why.path, why.message.key]);
  return { taken: entries.map((entry) => entry.id), said };
}

const request = JSON.parse(readFileSync(0, "utf-8"));
if (request.break_at) breakAt(request.break_at);
const answer = request.text === undefined ? await stand(request) : take(request);
process.stdout.write(JSON.stringify(answer));
