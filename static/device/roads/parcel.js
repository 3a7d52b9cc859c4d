// A parcel: signed entries as they are, together for a road that is not the network.
// On a screen it travels deflated in frames, as a file it is plain JSON. Whatever comes
// in is hostile until each entry has proven itself: sizes are bounded before anything
// is unpacked, and reading here believes nothing.

import { utf8 } from "../bytes.js";

const LARGEST_PACKED_BYTES = 160_000;
const LARGEST_OPEN_BYTES = 2 ** 21;
const LARGEST_FILE_BYTES = 2 ** 24;
const MOST_ON_SCREEN = 500;
const MOST_IN_FILE = 20_000;
const LARGEST_ENTRY = 65_536;
const SIGNATURE_LETTERS = 86;
const PACKING = "deflate-raw";

/** Bytes that are no parcel, too much, or of another site. */
export class ParcelFault extends Error {
  /** @param {"unreadable"|"too_large"|"other_site"} code */
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** @param {{bytes:string, sig:string}[]} rows @returns {string} the parcel as text */
export function parcelText(site, rows) {
  const entries = rows.map(({ bytes, sig }) => ({ bytes, sig }));
  return JSON.stringify({ format: 1, site, entries });
}

/** @returns {Promise<Uint8Array>} the parcel deflated; throws `ParcelFault` */
export async function packed(site, rows) {
  if (rows.length > MOST_ON_SCREEN) throw new ParcelFault("too_large");
  const bytes = await squeezed(
    utf8(parcelText(site, rows)), new CompressionStream(PACKING), LARGEST_PACKED_BYTES);
  return bytes;
}

/** @returns {Promise<{bytes:string, sig:string}[]>} throws `ParcelFault` */
export async function unpacked(bytes, site) {
  if (bytes.length > LARGEST_PACKED_BYTES) throw new ParcelFault("too_large");
  const open = await squeezed(
    bytes, new DecompressionStream(PACKING), LARGEST_OPEN_BYTES);
  return readParcel(open, site, MOST_ON_SCREEN);
}

/** @param {Blob} file @returns {Promise<object[]>} as `unpacked` */
export async function readFile(file, site) {
  if (file.size > LARGEST_FILE_BYTES) throw new ParcelFault("too_large");
  return readParcel(new Uint8Array(await file.arrayBuffer()), site, MOST_IN_FILE);
}

function readParcel(bytes, site, most) {
  const parcel = parsed(bytes);
  const { entries } = parcel ?? {};
  if (parcel?.format !== 1 || !Array.isArray(entries)) {
    throw new ParcelFault("unreadable");
  }
  if (parcel.site !== site) throw new ParcelFault("other_site");
  if (entries.length > most) throw new ParcelFault("too_large");
  if (!entries.every(isSigned)) throw new ParcelFault("unreadable");
  return entries.map(({ bytes: text, sig }) => ({ bytes: text, sig }));
}

function isSigned(entry) {
  return typeof entry?.bytes === "string" && entry.bytes.length <= LARGEST_ENTRY
    && typeof entry.sig === "string" && entry.sig.length === SIGNATURE_LETTERS;
}

function parsed(bytes) {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (fault) {
    // Nesting beyond the engine's stack is a RangeError, other bytes a TypeError.
    if ([SyntaxError, TypeError, RangeError].some((kind) => fault instanceof kind)) {
      throw new ParcelFault("unreadable");
    }
    throw fault;
  }
}

// What comes out is counted while it comes: a small bomb must not fill the memory.
async function squeezed(bytes, stream, most) {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  const parts = [];
  let length = 0;
  for (;;) {
    const { done, value } = await nextOf(reader);
    if (done) return new Uint8Array(await new Blob(parts).arrayBuffer());
    length += value.length;
    if (length > most) {
      await reader.cancel().catch(() => {});
      throw new ParcelFault("too_large");
    }
    parts.push(value);
  }
}

async function nextOf(reader) {
  try {
    return await reader.read();
  } catch (fault) {
    if (fault instanceof TypeError) throw new ParcelFault("unreadable");
    throw fault;
  }
}
