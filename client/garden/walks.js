// @ts-check
// Scouting walks that are under way: each tap is on the disk before the screen goes on to the next
// plant, and a browser that is killed comes back to the same plant.
import { STRICT } from "../store/open.js";
import { readMeta } from "../store/meta.js";
import { whole } from "../store/whole.js";

/** @typedef {import("../types.js").Actions} Actions */
/** @typedef {import("../types.js").Walk} Walk */
/** @typedef {import("../store/schema.js").Store} Store */
/** @typedef {Record<string, Walk>} Walks */

/** @param {{garden: string, planting: string}} walk */
const keyOf = ({ garden, planting }) => `${garden} ${planting}`;

/**
 * The walks of a garden.
 * @param {Store} store @param {string | undefined} garden
 */
export async function readWalks(store, garden) {
  const walks = (await readMeta(store, "walks")) ?? {};
  return Object.values(walks).filter((walk) => walk.garden === garden);
}

/**
 * @param {Store} store
 * @param {(walks: Walks) => Walks} alter
 */
async function change(store, alter) {
  const tx = store.transaction("meta", "readwrite", STRICT);
  await whole(tx, async () => {
    const walks = /** @type {Walks | undefined} */ (await tx.store.get("walks"));
    await tx.store.put(alter(walks ?? {}), "walks");
  });
}

/**
 * @param {import("../garden.js").Garden} garden
 * @returns {Pick<Actions, "keepWalk" | "dropWalk">}
 */
export function walking(garden) {
  const keep = async (/** @type {(walks: Walks) => Walks} */ alter) => {
    try {
      await change(garden.store, alter);
    } catch (error) {
      // The tap was not taken, and the screen still shows the plant that it was for.
      console.error(error);
      garden.notice("trouble", { key: "error.walk_not_kept", values: {} });
      return;
    }
    garden.closeNoticesOf("error.walk_not_kept");
    await garden.recount();
  };
  return {
    keepWalk: (walk) => keep((walks) => ({ ...walks, [keyOf(walk)]: walk })),
    dropWalk: (planting) => {
      const dropped = keyOf({ garden: garden.state.session?.garden.id ?? "", planting });
      return keep((walks) =>
        Object.fromEntries(Object.entries(walks).filter(([key]) => key !== dropped)));
    },
  };
}
