// @ts-check
// Dragging an item of a list to another place with a finger, a pen or a mouse.

/**
 * A listener for `pointerdown` on the grip of the item at a place; items carry `data-place`.
 * @param {number} from
 * @param {(from: number, to: number) => void} move
 */
export const dragging = (from, move) => (/** @type {PointerEvent} */ event) => {
  const grip = /** @type {HTMLElement} */ (event.currentTarget);
  const item = grip.closest("[data-place]");
  event.preventDefault();
  item?.classList.add("is-dragged");
  const follow = new AbortController();
  const end = (/** @type {PointerEvent} */ at) => {
    follow.abort();
    item?.classList.remove("is-dragged");
    const over = document.elementFromPoint(at.clientX, at.clientY)?.closest("[data-place]");
    const to = Number(over?.getAttribute("data-place") ?? from);
    if (over && item?.parentElement === over.parentElement) move(from, to);
  };
  window.addEventListener("pointerup", end, { signal: follow.signal });
  window.addEventListener(
    "pointercancel",
    () => {
      follow.abort();
      item?.classList.remove("is-dragged");
    },
    { signal: follow.signal },
  );
};
