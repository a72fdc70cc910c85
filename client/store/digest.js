// @ts-check
// By what name a picture is known: phone and shed find and check it by its bytes alone.

/**
 * The address of some bytes: their SHA-256 in lower-case hexadecimal digits.
 * @param {ArrayBuffer} bytes
 */
export async function digestOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
