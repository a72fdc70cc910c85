// Answers what client/units.js and client/words.js make of the values asked for; JSON in, JSON out.
import { roundIn, shownAs, stepIn, toShown, toStored, usualUnits } from "../../client/units.js";
import { compose } from "../../client/words.js";

const { conversions = [], typed = [], steps = [], texts = [], round = [], usual = [] } = JSON.parse(process.argv[2]);
const us = (unit) => shownAs("us", unit);
process.stdout.write(JSON.stringify({
  conversions: conversions.map(([unit, stored]) => [stored * us(unit).factor + us(unit).offset, us(unit).unit]),
  typed: typed.map(([unit, shown]) => toShown(us(unit), toStored(us(unit), shown))),
  steps: steps.map(([unit, step]) => stepIn(us(unit), step)),
  round: round.map(([system, unit, amount, step]) => {
    const stored = roundIn(system, unit, amount, step ?? undefined);
    return toShown(shownAs(system, unit), stored);
  }),
  usual: usual.map(([languages, zone]) => usualUnits(languages, zone)),
  texts: texts.map(([system, template, values]) =>
    compose({ text: template }, "text", values, undefined, "UTC", system)),
}));
