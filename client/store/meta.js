// @ts-check
// Single values kept beside the log.

/** @typedef {import("./schema.js").MetaValues} MetaValues */
/** @typedef {import("./schema.js").Store} Store */

/**
 * @template {keyof MetaValues} K
 * @param {Pick<Store, "get">} store
 * @param {K} key
 * @returns {Promise<MetaValues[K] | undefined>}
 */
export async function readMeta(store, key) {
  return /** @type {MetaValues[K] | undefined} */ (await store.get("meta", key));
}

/**
 * The notebook, which the upgrade wrote and nothing deletes.
 * @param {{get(key: "notebook"): Promise<MetaValues[keyof MetaValues] | undefined>}} meta
 */
export async function getNotebook(meta) {
  return /** @type {MetaValues["notebook"]} */ (await meta.get("notebook"));
}

/**
 * @template {keyof MetaValues} K
 * @param {Store} store
 * @param {K} key
 * @param {MetaValues[K]} value
 */
export async function writeMeta(store, key, value) {
  await store.put("meta", value, key);
}
