// @ts-check
// What a bed is, on one line.

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Bed} Bed */

/** @param {State} state @param {Bed} bed */
export function bedFacts(state, bed) {
  const told = [];
  if (bed.type)
    told.push(
      state.sayIf(`choice.bed.type.${bed.type}`) ??
        state.sayIf(`choice.type.${bed.type}`) ??
        bed.type,
    );
  if (bed.length_m && bed.width_m)
    told.push(state.say("screen.plan.size", { length_m: bed.length_m, width_m: bed.width_m }));
  if (bed.volume_l)
    told.push(state.say("screen.value.amount", { amount: bed.volume_l, unit: "L" }));
  return told.join(", ");
}
