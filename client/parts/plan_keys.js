// @ts-check
// The plan by keyboard: one stop of the Tab key, arrows from plant to plant, a key to choose.

/** @typedef {import("./plan_ground.js").Spot} Spot */

/** @type {Record<string, [number, number]>} */
const WAYS = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowDown: [0, 1],
  ArrowUp: [0, -1],
};
const ASIDE_WEIGHS = 3;

/**
 * @param {Spot[]} spots
 * @param {(spot: Spot) => void} choose
 */
export const plansKey = (spots, choose) => (/** @type {KeyboardEvent} */ event) => {
  const on = /** @type {Element} */ (event.target).closest("[data-at]");
  if (!on) return;
  const here = spots[Number(on.getAttribute("data-at"))];
  if (event.key === " " || event.key === "Enter") {
    event.preventDefault();
    choose(here);
    return;
  }
  const way = WAYS[event.key];
  if (!way) return;
  event.preventDefault();
  const next = nearest(spots, here, way);
  const there = event.currentTarget && next >= 0
    ? /** @type {Element} */ (event.currentTarget).querySelector(`[data-at="${next}"]`)
    : null;
  if (!(there instanceof SVGElement)) return;
  on.setAttribute("tabindex", "-1");
  there.setAttribute("tabindex", "0");
  there.focus();
};

/**
 * The place of the plant that lies next in a direction; -1 at the end.
 * @param {Spot[]} spots @param {Spot} here @param {[number, number]} way
 */
function nearest(spots, here, [right, under]) {
  let found = -1;
  let least = Infinity;
  spots.forEach((spot, at) => {
    const [dx, dy] = [spot.px - here.px, spot.py - here.py];
    const ahead = dx * right + dy * under;
    const aside = Math.abs(dx * under) + Math.abs(dy * right);
    const cost = ahead + ASIDE_WEIGHS * aside;
    if (!spot.live || ahead < 1 || aside > ahead || cost >= least) return;
    found = at;
    least = cost;
  });
  return found;
}
