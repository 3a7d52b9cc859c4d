// The one byte form of a document, and its hash (RFC 8785, whole numbers only).
// What is signed or hashed must come out the same in Python and JavaScript, so a
// fraction, a number beyond 2^53, a lone surrogate, a key that is not ASCII and text
// that is not in normal form C are refused rather than rounded or repaired.

import { sha256Hex } from "./sha256.js";

const DEEPEST = 40;
const ASCII = /^[\0-\x7f]*$/;
const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

/** A document that has no canonical form here; the message names the fault. */
export class NotCanonical extends Error {
  constructor(message) {
    super(message);
    this.name = "NotCanonical";
  }
}

/**
 * Give the canonical text of a document; its UTF-8 bytes are what is signed.
 * A key whose value is undefined is missing. Throws `NotCanonical`.
 * Source: RFC 8785 (JSON Canonicalization Scheme), sections 3.2.2 and 3.2.3.
 * @param {unknown} document maps, lists, whole numbers, truths, text
 * @returns {string}
 */
export function canonical(document) {
  return written(document, DEEPEST);
}

/** @param {unknown} document @returns {string} SHA-256 of its canonical bytes, hex */
export function fingerprint(document) {
  return sha256Hex(canonical(document));
}

/**
 * Read text (or UTF-8 bytes) that must already be canonical: no spaces, keys in order
 * and once each, numbers and escapes in their one form. Throws `NotCanonical`.
 * @param {string|Uint8Array} raw @returns {any}
 */
export function readCanonical(raw) {
  let text;
  let document;
  try {
    text = typeof raw === "string" ? raw : decoder.decode(raw);
    document = JSON.parse(text);
  } catch (fault) {
    throw new NotCanonical(`not readable JSON: ${fault.message}`);
  }
  if (canonical(document) !== text) {
    throw new NotCanonical("the text is not in canonical form");
  }
  return document;
}

function written(value, depth) {
  if (depth === 0) throw new NotCanonical("nested too deeply");
  if (typeof value === "string") return writtenText(value);
  if (typeof value === "number") return writtenNumber(value);
  if (typeof value === "boolean") return String(value);
  if (Array.isArray(value)) {
    return `[${Array.from(value, (inner) => written(inner, depth - 1)).join(",")}]`;
  }
  if (isMap(value)) return writtenMap(value, depth);
  throw new NotCanonical(
    `only whole numbers, text, lists and maps, not ${String(value)}`);
}

function writtenMap(map, depth) {
  const parts = [];
  for (const key of Object.keys(map).sort()) {
    if (map[key] === undefined) continue;
    if (!ASCII.test(key)) {
      throw new NotCanonical(`a key that is not ASCII text: ${key}`);
    }
    parts.push(`${JSON.stringify(key)}:${written(map[key], depth - 1)}`);
  }
  return `{${parts.join(",")}}`;
}

function writtenNumber(value) {
  if (!Number.isInteger(value)) throw new NotCanonical(`a fraction: ${value}`);
  if (!Number.isSafeInteger(value)) {
    throw new NotCanonical(`a number beyond 2^53: ${value}`);
  }
  return String(value);
}

function writtenText(text) {
  if (!ASCII.test(text)) {
    if (!text.isWellFormed()) throw new NotCanonical("text with a lone surrogate");
    if (text.normalize("NFC") !== text) {
      throw new NotCanonical("text that is not in normal form C");
    }
  }
  return JSON.stringify(text);
}

function isMap(value) {
  if (value === null || typeof value !== "object") return false;
  const prototype = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}
