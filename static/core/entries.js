// One signed fact: its fields, and the only way to read it from bytes. The bytes
// signed are the bytes kept, so reading never repairs: what is not exactly an entry is
// an `EntryError`. A kind that is not known here is read like any other, so that it
// can be kept, shown and carried.

import { NotCanonical, readCanonical } from "./canonical.js";
import { kindNamed, VERDICTS } from "./kinds.js";
import { sha256Hex } from "./sha256.js";

const LARGEST_BYTES = 65_536;
const LONGEST_TEXT = 2_000;
const LONGEST_LIST = 1_000;
const QUANTITY_LIMIT = 10 ** 12;
/** The last moment an entry may state. */
export const LATEST_MS = 2 ** 47;
/** What an id of a site, person, step, item … looks like: ASCII, 1 to 64 signs. */
export const ID = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;
const HASH = /^[0-9a-f]{64}$/;
const NEEDED_ON = {
  step: ["subject", "step"],
  point: ["subject", "point"],
  subject: ["subject"],
  site: [],
};

/** Of what is refused so much is shown, of a field's name too: answers stay small. */
const SHOWN_LENGTH = 80;

/** An entry that cannot be read: which field, what was found, what is allowed. */
export class EntryError extends Error {
  constructor(where, found, allowed) {
    const named = where.slice(0, SHOWN_LENGTH);
    const shown = String(found).slice(0, SHOWN_LENGTH);
    super(`${named}: found ${shown}, allowed: ${allowed}`);
    this.name = "EntryError";
    this.where = named;
    this.found = found;
    this.allowed = allowed;
  }
}

/**
 * @typedef {object} Entry one entry as read; optional fields are undefined where
 * missing, except line "", values {}, about {}, photos [] and needs []. Times in ms
 * UTC; zone in minutes; mono and offset in ms.
 */

/**
 * Read the canonical text (or its bytes) of one entry. Throws `EntryError`.
 * @param {string|Uint8Array} raw @returns {Entry}
 */
export function readEntry(raw) {
  const bytes = typeof raw === "string" ? new TextEncoder().encode(raw) : raw;
  if (bytes.length > LARGEST_BYTES) {
    throw new EntryError("bytes", bytes.length, `at most ${LARGEST_BYTES}`);
  }
  return entryOf(readDocument(raw), sha256Hex(bytes));
}

/**
 * Check a document field by field and give the entry. Throws `EntryError`.
 * @param {unknown} fields @param {string} id its id, the SHA-256 of its bytes
 * @returns {Entry}
 */
export function entryOf(fields, id) {
  if (!isMap(fields)) throw new EntryError("entry", fields, "a map of fields");
  for (const name of Object.keys(fields)) {
    if (!FIELDS.has(name)) {
      throw new EntryError(name, "a field", `only ${[...FIELDS.keys()].join(", ")}`);
    }
  }
  for (const [name, [needed, check]] of FIELDS) {
    if (fields[name] !== undefined) check(name, fields[name]);
    else if (needed) throw new EntryError(name, "nothing", "this field is needed");
  }
  checkKind(fields);
  const { format: _, ...known } = fields;
  return { line: "", values: {}, about: {}, photos: [], needs: [], ...known, id };
}

function readDocument(raw) {
  try {
    return readCanonical(raw);
  } catch (fault) {
    if (!(fault instanceof NotCanonical)) throw fault;
    throw new EntryError("bytes", fault.message, "canonical JSON (RFC 8785)");
  }
}

function checkKind(fields) {
  const kind = kindNamed(fields.kind);
  if (!kind) return;
  for (const name of NEEDED_ON[kind.on]) {
    if (fields[name] === undefined) {
      throw new EntryError(name, "nothing", `needed by kind ${fields.kind}`);
    }
  }
  if (!kind.values && Object.keys(fields.values ?? {}).length > 0) {
    throw new EntryError("values", fields.values, "none with this kind");
  }
  checkAbout(kind.about, fields.about ?? {});
}

function checkAbout(wanted, about) {
  for (const [name, type] of Object.entries(wanted)) {
    const optional = type.endsWith("?");
    if (Object.hasOwn(about, name)) {
      ABOUT[optional ? type.slice(0, -1) : type](`about.${name}`, about[name]);
    } else if (!optional) {
      throw new EntryError(`about.${name}`, "nothing", "this field is needed");
    }
  }
  for (const name of Object.keys(about)) {
    if (!Object.hasOwn(wanted, name)) {
      throw new EntryError(`about.${name}`, about[name], "not a field of this kind");
    }
  }
}

function text(where, value) {
  const length = typeof value === "string" ? Array.from(value).length : 0;
  if (length < 1 || length > LONGEST_TEXT) {
    throw new EntryError(where, value, `text of 1 to ${LONGEST_TEXT} characters`);
  }
}

function identity(where, value) {
  if (typeof value !== "string" || !ID.test(value)) {
    throw new EntryError(where, value, "letters, digits, . _ - (1 to 64)");
  }
}

function hash(where, value) {
  if (typeof value !== "string" || !HASH.test(value)) {
    throw new EntryError(where, value, "64 hex digits");
  }
}

function whole(low, high) {
  return (where, value) => {
    if (!Number.isInteger(value) || value < low || value > high) {
      throw new EntryError(where, value, `a whole number from ${low} to ${high}`);
    }
  };
}

function oneOf(...allowed) {
  return (where, value) => {
    if (!allowed.includes(value)) {
      throw new EntryError(where, value, `one of ${allowed.join(", ")}`);
    }
  };
}

function list(check, { ordered = false } = {}) {
  return (where, value) => {
    if (!Array.isArray(value) || value.length > LONGEST_LIST) {
      throw new EntryError(where, value, `a list of at most ${LONGEST_LIST}`);
    }
    for (const inner of value) check(where, inner);
    if (ordered && value.some((inner, place) => place && value[place - 1] >= inner)) {
      throw new EntryError(where, "unsorted or repeated", "sorted, each once");
    }
  };
}

function values(where, value) {
  if (!isMap(value) || Object.keys(value).length > LONGEST_LIST) {
    throw new EntryError(where, value, "a map of readings");
  }
  for (const [name, inner] of Object.entries(value)) {
    identity(`${where} key`, name);
    (typeof inner === "string" ? text : quantity)(`${where}.${name}`, inner);
  }
}

function about(where, value) {
  if (!isMap(value)) throw new EntryError(where, value, "a map");
}

function isMap(value) {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

function conditions(where, value) {
  if (!Array.isArray(value) || value.length < 1 || value.length > 20) {
    throw new EntryError(where, value, "a list of 1 to 20 conditions");
  }
  for (const each of value) {
    if (!isMap(each) || Object.keys(each).sort().join() !== "before,text") {
      throw new EntryError(where, each, "a map of text and before");
    }
    text(`${where}.text`, each.text);
    identity(`${where}.before`, each.before);
  }
}

/** Say whether a correction changes no value and no time, only brings pictures. */
export function addsPhoto({ kind, values = {}, about = {}, photos = [] }) {
  return kind === "correction" && photos.length > 0 && about.at === undefined
    && Object.keys(values).length === 0;
}

const ms = whole(0, LATEST_MS);
const quantity = whole(-QUANTITY_LIMIT, QUANTITY_LIMIT);
const hashes = list(hash, { ordered: true });
const ABOUT = {
  text, id: identity, ids: list(identity), hash, ms, int: quantity,
  verdict: oneOf(...VERDICTS), conditions,
};
const FIELDS = new Map(Object.entries({
  format: [true, whole(1, 1)],
  site: [true, identity],
  subject: [false, identity],
  sheet: [false, hash],
  rules: [true, whole(1, 1_000)],
  kind: [true, identity],
  step: [false, identity],
  line: [false, identity],
  point: [false, identity],
  attempt: [false, hash],
  values: [false, values],
  about: [false, about],
  photos: [false, list(hash)],
  person: [true, identity],
  device: [true, identity],
  key: [true, hash],
  seq: [true, whole(1, 10 ** 9)],
  prev: [false, hash],
  after: [true, hashes],
  needs: [false, hashes],
  at: [true, ms],
  at_by: [true, oneOf("tap", "typed")],
  made: [true, ms],
  zone: [true, whole(-1_440, 1_440)],
  session: [true, identity],
  mono: [true, whole(0, LATEST_MS)],
  offset: [false, whole(-LATEST_MS, LATEST_MS)],
  shell: [true, identity],
  unlocked: [false, oneOf("pin", "shift")],
}));
