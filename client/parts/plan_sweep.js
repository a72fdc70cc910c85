// @ts-check
// Choosing by dragging over the plan: every plant that the finger passes is taken.

/** @typedef {import("./plan_ground.js").Spot} Spot */
/** @typedef {{x: number, y: number}} At on the page of the plan */
/** @typedef {{last: At, isMoving: boolean, taken: Set<number>}} Sweep */

const BEGINS_PX = 8;

/** @type {WeakMap<Element, Sweep>} */
const sweeps = new WeakMap();

/**
 * Where an event lies on the drawing's own page.
 * @param {Element} ground @param {PointerEvent} event
 */
function placeOf(ground, event) {
  const drawing = /** @type {SVGSVGElement} */ (ground.querySelector("svg"));
  const box = drawing.getBoundingClientRect();
  const scale = drawing.viewBox.baseVal.width / box.width;
  return { x: (event.clientX - box.left) * scale, y: (event.clientY - box.top) * scale };
}

/** @param {PointerEvent} event */
export function sweepFrom(event) {
  const ground = /** @type {HTMLElement} */ (event.currentTarget);
  sweeps.set(ground, { last: placeOf(ground, event), isMoving: false, taken: new Set() });
}

/**
 * @param {PointerEvent} event
 * @param {Spot[]} spots
 * @param {number} radius
 */
export function sweepOn(event, spots, radius) {
  const ground = /** @type {HTMLElement} */ (event.currentTarget);
  const sweep = sweeps.get(ground);
  if (!sweep) return;
  const now = placeOf(ground, event);
  if (!sweep.isMoving) {
    if (Math.hypot(now.x - sweep.last.x, now.y - sweep.last.y) < BEGINS_PX) return;
    sweep.isMoving = true;
    ground.setPointerCapture(event.pointerId);
  }
  spots.forEach((spot, at) => {
    if (!spot.live || sweep.taken.has(at) || apart(spot, sweep.last, now) > radius) return;
    sweep.taken.add(at);
    // Shown at once and drawn anew at the end, however many plants there are.
    ground.querySelector(`[data-at="${at}"]`)?.classList.add("is-swept");
  });
  sweep.last = now;
}

/**
 * The plants that were passed, by their places among the spots; none after a mere tap.
 * @param {PointerEvent} event @returns {number[]}
 */
export function sweepEnd(event) {
  const ground = /** @type {HTMLElement} */ (event.currentTarget);
  const sweep = sweeps.get(ground);
  sweeps.delete(ground);
  for (const one of ground.querySelectorAll(".is-swept")) one.classList.remove("is-swept");
  return sweep ? [...sweep.taken] : [];
}

/**
 * How far a plant stands from a stretch that the finger went.
 * @param {Spot} spot @param {At} from @param {At} to
 */
function apart({ px, py }, from, to) {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const size = dx * dx + dy * dy;
  const along = size ? ((px - from.x) * dx + (py - from.y) * dy) / size : 0;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(px - from.x - share * dx, py - from.y - share * dy);
}
