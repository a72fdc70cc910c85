// The phone's log, asked from outside: one JSON request per line in, one JSON answer per line out.
import { readFileSync } from "node:fs";
import { checkDetails, checkMoment } from "../../client/log/check.js";
import { advance, isClock, orderOf, tick } from "../../client/log/clock.js";
import { isId, newId } from "../../client/log/identity.js";
import { plantsOfRow, positionOf, rowOf } from "../../client/log/layout.js";
import { Ledger, livePlants } from "../../client/log/ledger.js";
import {
  addYears, civilDate, dayText, momentText, parseDay, parseMoment,
} from "../../client/log/moment.js";
import { viewOfBed, viewOfPlanting } from "../../client/log/view.js";

/** A garden fed batch by batch; "forget" leaves entries out again. */
function fold({ batches, forget = [] }) {
  const ledger = new Ledger();
  const touched = batches.map((batch) => [...ledger.add(batch)].sort());
  const forgotten = [...ledger.forget(forget)].sort();
  return {
    snapshot: ledger.snapshot(),
    touched,
    forgotten,
    reached: touched.map((keys) => ledger.reachedBy(keys)),
    live: ledger.plantings().map(livePlants),
    views: [
      ...ledger.beds().map((bed) => viewOfBed(ledger, bed.id)),
      ...ledger.plantings().map((planting) => viewOfPlanting(ledger, planting.id)),
    ],
  };
}

const ANSWERS = new Map(Object.entries({
  parse_moment: ({ text }) => parseMoment(text),
  moment_text: ({ instant, offset }) => momentText(instant, offset),
  parse_day: ({ text }) => parseDay(text),
  day: ({ day }) => [dayText(day), civilDate(day)],
  add_years: ({ day, years }) => addYears(day, years),
  tick: ({ last, now }) => tick(last, now),
  advance: ({ last, seen, now }) => advance(last, seen, now),
  order_of: ({ clock, received }) => orderOf(clock, received),
  is_clock: ({ text }) => isClock(text),
  new_id: ({ now, random }) => newId(now, Uint8Array.from(random)),
  is_id: ({ text }) => isId(text),
  position: ({ plant, planting, bed }) => positionOf(plant, planting, bed),
  row: ({ plant, count, rows }) => {
    const row = rowOf(plant, count, rows);
    return [row, plantsOfRow(row, count, rows)];
  },
  check: ({ kind, subjects, details, making }) => checkDetails(kind, subjects, details, making),
  check_moment: ({ text, now }) => checkMoment(text, now),
  fold,
}));

/** What a request comes to; what it throws is an answer too. */
function answer(request) {
  try {
    return { answer: ANSWERS.get(request.ask)(request) };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { error: error.message };
  }
}

const lines = readFileSync(0, "utf-8").split("\n").filter((line) => line !== "");
process.stdout.write(lines.map((line) => `${JSON.stringify(answer(JSON.parse(line)))}\n`).join(""));
