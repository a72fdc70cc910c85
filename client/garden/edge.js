// @ts-check
// Chance and files: what the running garden takes from the browser besides its clock.
import { newId, RANDOM_BYTES } from "../log/identity.js";
import { bestLanguage } from "../languages.js";
import { served } from "../served.js";

/** An id that no other device makes. */
export function freshId() {
  return newId(Date.now(), crypto.getRandomValues(new Uint8Array(RANDOM_BYTES)));
}

/**
 * Lets the browser save a text as a file.
 * @param {string} name
 * @param {string} text
 */
export function saveFile(name, text) {
  const link = document.createElement("a");
  const address = URL.createObjectURL(new Blob([text], { type: "application/x-ndjson" }));
  link.href = address;
  link.download = name;
  link.click();
  // The browser reads the address after this turn.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** @typedef {import("../types.js").KindDescription} KindDescription */
/** @typedef {import("../types.js").Rulebook} Rulebook */
/** @typedef {Record<string, string>} Words */
/** @typedef {Record<string, string>} Languages own names by code */
/**
 * @typedef {object} Assets
 * @property {Languages} languages
 * @property {string} language the one that is shown
 * @property {Words} words its texts
 * @property {KindDescription[]} kinds
 * @property {Rulebook} rulebook
 */

/**
 * The texts, the kinds of entry and the rules that were served with this very code.
 * @param {string | undefined} chosen the language that the person chose
 * @returns {Promise<Assets>}
 */
export async function loadAssets(chosen) {
  const [languages, described, rulebook] = await Promise.all(
    ["languages.json", "kinds.json", "rulebook.json"].map(readJson),
  );
  const language = bestLanguage([chosen ?? "", ...navigator.languages], languages);
  const words = await loadWords(language);
  return { languages, language, words, kinds: described.kinds, rulebook };
}

/**
 * @param {string} language
 * @returns {Promise<Words>}
 */
export const loadWords = (language) => readJson(`words/${language}.json`);

/** @param {string} address below the client's root */
async function readJson(address) {
  const response = await fetch(served(address));
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return response.json();
}
