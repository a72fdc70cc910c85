// @ts-check
// Under which address this very code was served: `/a/<digest>/`, joined into one module or not.
const [, ...parts] = new URL(import.meta.url).pathname.split("/");

/** The digest of all that was served with this code. */
export const DIGEST = parts[1];

/**
 * The address of a file that was served with this code.
 * @param {string} name below the client's root
 */
export const served = (name) => `/${parts[0]}/${DIGEST}/${name}`;
