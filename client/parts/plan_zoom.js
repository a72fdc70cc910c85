// @ts-check
// The plan under two fingers, a mouse or the buttons: it is drawn once, and only moved and scaled.

const LARGEST = 4;
const STEP = 1.5;
/** What a two-finger move began with. @typedef {{gap: number, x: number, y: number, left: number,
 *   top: number, width: number, factor: number}} Pinch */
/** @typedef {{fingers: Map<number, {x: number, y: number}>, pinch: Pinch | undefined}} Hold */

/** @type {WeakMap<Element, Hold>} */
const holds = new WeakMap();

/** @param {Element} ground */
function holdOf(ground) {
  const hold = holds.get(ground) ?? { fingers: new Map(), pinch: undefined };
  holds.set(ground, hold);
  return hold;
}

/** @param {Element} ground */
const drawingOf = (ground) => /** @type {SVGSVGElement} */ (ground.querySelector("svg"));

/**
 * How much larger or smaller a drawing may become.
 * @param {Element} ground @param {SVGSVGElement} drawing @param {number} factor
 */
function within(ground, drawing, factor) {
  const { width, height } = drawing.getBoundingClientRect();
  const whole = Math.min(1, ground.clientWidth / width, ground.clientHeight / height);
  const most = Math.max(1, (LARGEST * drawing.viewBox.baseVal.width) / width);
  return Math.min(Math.max(factor, whole), most);
}

/** @param {Hold} hold */
function between({ fingers }) {
  const [a, b] = [...fingers.values()];
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, gap: Math.hypot(a.x - b.x, a.y - b.y) || 1 };
}

/**
 * A finger came down; answers whether there are two of them now.
 * @param {PointerEvent} event
 */
export function touched(event) {
  const ground = /** @type {HTMLElement} */ (event.currentTarget);
  const hold = holdOf(ground);
  if (event.isPrimary) hold.fingers.clear();
  hold.fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  if (hold.fingers.size !== 2) return false;
  const { x, y, gap } = between(hold);
  const box = ground.getBoundingClientRect();
  const { width } = drawingOf(ground).getBoundingClientRect();
  const left = ground.scrollLeft + x - box.left;
  const top = ground.scrollTop + y - box.top;
  hold.pinch = { gap, x, y, left, top, width, factor: 1 };
  drawingOf(ground).style.willChange = "transform";
  return true;
}

/** A finger moved; answers whether it is one of two. @param {PointerEvent} event */
export function pinched(event) {
  const ground = /** @type {HTMLElement} */ (event.currentTarget);
  const hold = holdOf(ground);
  const { fingers, pinch } = hold;
  if (!fingers.has(event.pointerId)) return false;
  fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  if (!pinch || fingers.size !== 2) return false;
  const drawing = drawingOf(ground);
  const now = between(hold);
  const most = (LARGEST * drawing.viewBox.baseVal.width) / pinch.width;
  const least = Math.min(1, ground.clientWidth / pinch.width);
  pinch.factor = Math.min(Math.max(now.gap / pinch.gap, least), Math.max(most, 1));
  const right = pinch.left * (1 - pinch.factor) + now.x - pinch.x;
  const down = pinch.top * (1 - pinch.factor) + now.y - pinch.y;
  drawing.style.transform = `translate(${right}px, ${down}px) scale(${pinch.factor})`;
  return true;
}

/** A finger was lifted: what two of them made of the drawing is kept. @param {PointerEvent} event */
export function lifted(event) {
  const ground = /** @type {HTMLElement} */ (event.currentTarget);
  const hold = holdOf(ground);
  const { pinch } = hold;
  const { x, y } = pinch && hold.fingers.size === 2 ? between(hold) : { x: 0, y: 0 };
  hold.fingers.delete(event.pointerId);
  if (!pinch) return;
  hold.pinch = undefined;
  const box = ground.getBoundingClientRect();
  resize(ground, pinch.width * pinch.factor);
  ground.scrollLeft = pinch.left * pinch.factor - (x - box.left);
  ground.scrollTop = pinch.top * pinch.factor - (y - box.top);
}

/** @param {HTMLElement} ground @param {number} width */
function resize(ground, width) {
  const drawing = drawingOf(ground);
  drawing.style.transform = "";
  drawing.style.willChange = "";
  drawing.style.width = `${width}px`;
}

/**
 * Larger or smaller by a button, about the middle of what is seen.
 * @param {HTMLElement} ground @param {1 | -1} direction
 */
export function zoom(ground, direction) {
  const drawing = drawingOf(ground);
  const { width } = drawing.getBoundingClientRect();
  const factor = within(ground, drawing, direction > 0 ? STEP : 1 / STEP);
  const left = (ground.scrollLeft + ground.clientWidth / 2) * factor;
  const top = (ground.scrollTop + ground.clientHeight / 2) * factor;
  resize(ground, width * factor);
  ground.scrollLeft = left - ground.clientWidth / 2;
  ground.scrollTop = top - ground.clientHeight / 2;
}

/** The whole bed at once, however small its plants become. @param {HTMLElement} ground */
export function showWhole(ground) {
  const drawing = drawingOf(ground);
  const { width } = drawing.getBoundingClientRect();
  resize(ground, width * within(ground, drawing, 0));
}

/**
 * Moves the plan alone, not the page, so that the chosen plant lies in its middle.
 */
export function showChosen() {
  const ground = document.querySelector(".plan-ground");
  const plant = ground?.querySelector(".is-chosen");
  if (!ground || !plant) return;
  const [box, one] = [ground.getBoundingClientRect(), plant.getBoundingClientRect()];
  ground.scrollLeft += (one.left + one.right - box.left - box.right) / 2;
  ground.scrollTop += (one.top + one.bottom - box.top - box.bottom) / 2;
}
