// @ts-check
// After the lead made a code: watches for the device that spends it, and for the code's end.

/** @typedef {import("../garden.js").Garden} Garden */
/** @typedef {import("../types.js").Invitation} Invitation */

const LOOK_EVERY_MS = 4_000;

/**
 * The lead stands beside the new phone, and wants to see that it is in.
 * @param {Garden} garden
 * @param {Invitation} made
 */
export function watchForGuest(garden, made) {
  const before = new Set(garden.state.devices.map((device) => device.id));
  const timer = setInterval(async () => {
    if (garden.held.invitation !== made) return clearInterval(timer);
    await garden.loop.now();
    const guest = garden.state.devices.find((device) => !before.has(device.id));
    if (guest) tellEnd(garden, made, "done", "notice.joined", { name: guest.person, told: guest.name });
    else if (isOver(garden, made)) tellEnd(garden, made, "warning", "notice.code_over", {});
  }, LOOK_EVERY_MS);
}

/**
 * By the shed's clock, which set the end: this one may be wrong.
 * @param {Garden} garden
 * @param {Invitation} made
 */
const isOver = ({ state }, made) =>
  Date.now() - (state.clockOff ?? 0) * 1000 >= made.expires_at_ms;

/**
 * @param {Garden} garden
 * @param {Invitation} made
 * @param {import("../types.js").Notice["tone"]} tone
 * @param {string} key
 * @param {Record<string, string>} values
 */
function tellEnd(garden, made, tone, key, values) {
  if (garden.held.invitation !== made) return;
  garden.held.invitation = null;
  garden.notice(tone, { key, values });
}
