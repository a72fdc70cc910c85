// @ts-check
// Which of the languages that there are is shown to this person.

const FALLBACK = "en";

/**
 * The first wanted language that there is, whatever its region: es-MX is served by es.
 * @param {readonly string[]} wanted codes, the dearest first
 * @param {Record<string, string>} languages own names by code
 */
export function bestLanguage(wanted, languages) {
  const codes = wanted.map((code) => code.toLowerCase().split("-")[0]);
  return codes.find((code) => code in languages) ?? FALLBACK;
}
