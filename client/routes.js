// @ts-check
// Hash addresses of screens: "#/bed/<id>?more=…".

/** @typedef {import("./types.js").Route} Route */

/**
 * @param {string} hash
 * @returns {Route}
 */
export function parseRoute(hash) {
  const [path, search = ""] = hash.replace(/^#?\/?/, "").split("?", 2);
  const cut = path.indexOf("/");
  const name = cut < 0 ? path : path.slice(0, cut);
  const id = cut < 0 ? "" : decoded(path.slice(cut + 1));
  return { name: name || "round", id, query: Object.fromEntries(new URLSearchParams(search)) };
}

/**
 * An address that someone has cut short is still an address.
 * @param {string} text
 */
function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/**
 * The present route; a one-time code is taken out of the address bar and the history.
 * @returns {Route}
 */
export function takeRoute() {
  const route = parseRoute(location.hash);
  if (route.name === "join" && route.id) history.replaceState(null, "", "#/join");
  return route;
}
