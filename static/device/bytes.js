// Bytes and their text forms on the wire. Holds no rule and keeps nothing.

const coder = new TextEncoder();

/** @param {string} text @returns {Uint8Array} UTF-8 */
export function utf8(text) {
  return coder.encode(text);
}

/** @param {Uint8Array} raw @returns {string} base64url without padding */
export function toBase64url(raw) {
  let text = "";
  for (const byte of raw) text += String.fromCharCode(byte);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** @param {string} text base64url @returns {Uint8Array} */
export function fromBase64url(text) {
  const plain = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
}

/** @param {Uint8Array|string} raw @returns {Promise<string>} 64 hex digits */
export async function sha256Hex(raw) {
  return toHex(await sha256(typeof raw === "string" ? utf8(raw) : raw));
}

/** @param {Uint8Array} bytes @returns {Promise<Uint8Array>} 32 bytes */
export async function sha256(bytes) {
  return new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
}

/** @param {number} count @returns {Uint8Array} random bytes */
export function randomBytes(count) {
  return crypto.getRandomValues(new Uint8Array(count));
}

function toHex(raw) {
  return Array.from(raw, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
