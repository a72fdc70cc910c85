// @ts-check
// Keeps the page and everything it is made of on the device, so that it opens without a network.
// The shed fills in the digest and the list; a new list is a new worker, which waits until the
// person lets it take over.

/** @typedef {Event & {waitUntil(done: Promise<unknown>): void}} LifeEvent */
/** @typedef {LifeEvent & {request: Request, respondWith(answer: Promise<Response>): void}} Asked */

const DIGEST = "{{digest}}";
const FILES = /** @type {string[]} */ (JSON.parse(`{{precache}}`));
// Screens that are seldom opened: kept once the device belongs to a garden, so that a first visit
// stays small.
const LATER = /** @type {string[]} */ (JSON.parse(`{{kept_later}}`));
const KEPT = new Set([...FILES, ...LATER]);
// The words of each language, by its code: those in use are kept, not all.
const WORDS = /** @type {Record<string, string>} */ (JSON.parse(`{{words}}`));
const FALLBACK = "en";
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
  const told = /** @type {LifeEvent} */ (/** @type {unknown} */ (event));
  if (event.data === TAKE_OVER) void scope.skipWaiting();
  // When the network fails meanwhile, the page says it again when it is opened next.
  if (event.data.keepAllIn) told.waitUntil(keepAll(event.data.keepAllIn).catch(() => undefined));
});

self.addEventListener("fetch", (event) => {
  const asked = /** @type {Asked} */ (event);
  const { request } = asked;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (pathname.startsWith("/api/") || pathname === "/healthz") return;
  if (request.mode === "navigate" && pathname === PAGE) asked.respondWith(fromCache(PAGE, request));
  else if (KEPT.has(pathname)) asked.respondWith(fromCache(pathname, request));
  else if (Object.values(WORDS).includes(pathname)) {
    asked.respondWith(keptOnceFetched(pathname, request));
  }
});

async function fillCache() {
  const cache = await caches.open(CACHE);
  // The page past the browser's own cache, which may hold that of an older worker. The files have
  // the digest in their address: what the page has fetched just now is not fetched again.
  const words = (await languagesInUse()).map((code) => WORDS[code]);
  // A device that comes from an older worker must lack nothing when the new one takes over.
  const later = (await ownCaches()).some((name) => name !== CACHE) ? LATER : [];
  await cache.addAll([new Request(PAGE, { cache: "reload" }), ...FILES, ...words, ...later]);
}

/**
 * Fetches what is not kept yet, with the words that the page shows: at the first visit it has fetched
 * them past this worker.
 * @param {string} language
 */
async function keepAll(language) {
  const cache = await caches.open(CACHE);
  const wanted = [...LATER, WORDS[language]];
  const kept = await Promise.all(wanted.map((address) => cache.match(address)));
  await cache.addAll(wanted.filter((_, place) => !kept[place]));
}

const ownCaches = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

/**
 * Those that an older worker keeps: a person who chose another than the browser's language must
 * find it after an update too.
 */
async function languagesInUse() {
  const names = await ownCaches();
  const kept = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
  const addresses = kept.flat().map((request) => new URL(request.url).pathname);
  const known = Object.keys(WORDS);
  const before = known.filter((code) => addresses.some((one) => one.endsWith(`/words/${code}.json`)));
  const own = navigator.languages.map((code) => code.toLowerCase().split("-")[0]);
  const best = own.find((code) => known.includes(code)) ?? FALLBACK;
  return [...new Set([...before, best])];
}

async function dropOldCaches() {
  const old = (await ownCaches()).filter((name) => name !== CACHE);
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

/**
 * @param {string} address
 * @param {Request} request
 */
async function keptOnceFetched(address, request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(address);
  if (kept) return kept;
  const fresh = await fetch(request);
  if (fresh.ok) await cache.put(address, fresh.clone());
  return fresh;
}
