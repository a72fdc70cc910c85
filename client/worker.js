// @ts-check
// Registers the service worker, and offers a newer one: it takes over by the person's tap alone.

const POLICY = "shedbook-worker";
const ADDRESS = "/service-worker.js";
const TAKE_OVER = "take over";

/**
 * @typedef {object} Worker
 * @property {() => void} apply lets a waiting worker take over and opens the page anew
 * @property {() => Promise<void>} look asks the shed whether there is a newer one
 */

/**
 * @param {() => void} onUpdate a newer version waits
 * @returns {Promise<Worker>}
 */
export async function watchWorker(onUpdate) {
  // Plain http on the LAN has no service worker: the page then needs the shed to open.
  if (!navigator.serviceWorker) return { apply: () => location.reload(), look: async () => {} };
  const registration = await navigator.serviceWorker.register(trusted(ADDRESS));
  offerWhenWaiting(registration, onUpdate);
  let isAsked = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // Another tab let the new worker in: this one goes on with what it has, and is offered it.
    if (!isAsked) onUpdate();
  });
  return {
    apply: () => {
      const { waiting } = registration;
      if (!waiting) return location.reload();
      isAsked = true;
      waiting.addEventListener("statechange", () => {
        if (waiting.state === "activated") location.reload();
      });
      waiting.postMessage(TAKE_OVER);
    },
    // When the shed is gone again by now, the next exchange asks again.
    look: () => registration.update().then(() => undefined, () => undefined),
  };
}

/**
 * A device that belongs to a garden keeps the screens that are seldom opened too.
 * @param {string} language
 */
export async function keepAllIn(language) {
  const registration = await navigator.serviceWorker?.ready;
  registration?.active?.postMessage({ keepAllIn: language });
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {() => void} onUpdate
 */
function offerWhenWaiting(registration, onUpdate) {
  const offer = () => {
    if (registration.waiting && registration.active) onUpdate();
  };
  offer();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", offer);
  });
}

/**
 * The page's policy lets scripts be loaded by trusted addresses only; this is the one we make.
 * @param {string} address
 * @returns {string}
 */
function trusted(address) {
  const { trustedTypes } = /** @type {{trustedTypes?: Policies}} */ (
    /** @type {unknown} */ (globalThis));
  if (!trustedTypes) return address;
  const policy = trustedTypes.createPolicy(POLICY, { createScriptURL: () => ADDRESS });
  // The DOM's types know of plain addresses only.
  return /** @type {string} */ (/** @type {unknown} */ (policy.createScriptURL(address)));
}

/**
 * @typedef {{createPolicy(name: string, rules: {createScriptURL(address: string): string}):
 *   {createScriptURL(address: string): object}}} Policies
 */
