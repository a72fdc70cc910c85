// @ts-check
// Keeps the page and everything it is made of on the device, so that it opens without a network.
// The shed fills in the digest and the list; a new list is a new worker, which waits until the
// person lets it take over.

/** @typedef {Event & {waitUntil(done: Promise<unknown>): void}} LifeEvent */
/** @typedef {LifeEvent & {request: Request, respondWith(answer: Promise<Response>): void}} Asked */

const DIGEST = "{{digest}}";
const FILES = /** @type {string[]} */ (JSON.parse(`{{precache}}`));
const PAGE = "/";
const PREFIX = "shedbook-";
const CACHE = PREFIX + DIGEST;
const TAKE_OVER = "take over";

self.addEventListener("install", (event) => {
  /** @type {LifeEvent} */ (event).waitUntil(fillCache());
});

self.addEventListener("activate", (event) => {
  /** @type {LifeEvent} */ (event).waitUntil(dropOldCaches());
});

self.addEventListener("message", (event) => {
  const scope = /** @type {{skipWaiting(): Promise<void>}} */ (/** @type {unknown} */ (self));
  if (event.data === TAKE_OVER) void scope.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const asked = /** @type {Asked} */ (event);
  const { request } = asked;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (pathname.startsWith("/api/") || pathname === "/healthz") return;
  if (request.mode === "navigate" && pathname === PAGE) asked.respondWith(fromCache(PAGE, request));
  else if (FILES.includes(pathname)) asked.respondWith(fromCache(pathname, request));
});

async function fillCache() {
  const cache = await caches.open(CACHE);
  // The page past the browser's own cache, which may hold that of an older worker. The files have
  // the digest in their address: what the page has fetched just now is not fetched again.
  await cache.addAll([new Request(PAGE, { cache: "reload" }), ...FILES]);
}

async function dropOldCaches() {
  const old = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

/**
 * @param {string} address
 * @param {Request} request
 */
async function fromCache(address, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(address)) ?? fetch(request);
}
