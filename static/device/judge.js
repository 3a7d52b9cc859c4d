// Says what may be believed of an entry that came by any road: its signature by the key
// the roster gives its signer on that device. What cannot be believed yet is kept apart
// and judged again when the roster changes. Storing is not believing.

import { EntryError, readEntry } from "../core/entries.js";
import { findKey, roster, ROSTER_KINDS } from "../core/roster.js";
import { ledTo, witnessed } from "../core/witness.js";
import { rowOf, siteEntries } from "./book.js";
import { sha256Hex } from "./bytes.js";
import { getMeta, putEntries, transact } from "./database.js";
import { verify } from "./keys.js";

/** Doubts that a later roster may lift. */
export const OPEN_DOUBTS = new Set(["unknown_key", "other_device", "revoked_key"]);

/** @returns {boolean} whether entries are to be judged again after this one came */
export function callsForJudging(row) {
  return row.fault === "revoked_key" || (row.subject === ""
    && ROSTER_KINDS.some((kind) => row.bytes.includes(`"kind":"${kind}"`)));
}

/**
 * Read one entry as it came. What is already here stays as it is kept.
 * @param {object[]} site the site's own entries so far; a sound one is added to them
 * @returns {Promise<{row:object, known?:true}>} `row.fault` says why it is not believed
 */
export async function readSent(bytes, sig, site, identity) {
  const id = await sha256Hex(bytes);
  const known = await transact(["entries"], "readonly", (store) =>
    store("entries").get(id));
  if (known && (known.mine || !known.fault)) return { row: known, known: true };
  const entry = readable(bytes);
  if (!entry) return { row: { id, bytes, sig, subject: "", fault: "unreadable" } };
  const row = rowOf(entry, bytes, sig);
  const fault = await doubt(entry, row, roster(site, identity.officeKey), identity);
  if (fault) row.fault = fault;
  else if (row.subject === "") site.push(entry);
  return { row };
}

/** What the office has need not be offered to it, and what is ours it could read. */
export async function readPulled(bytes, sig, site, identity) {
  const { row: { waiting, ...row } } = await readSent(bytes, sig, site, identity);
  if (row.mine) delete row.fault;
  return row;
}

/** Judge again what hangs on the roster. @returns {Promise<number>} how many changed */
export async function judgeAgain() {
  const identity = await getMeta("identity");
  let changed = 0;
  // A key found good may vouch for a further one.
  for (;;) {
    const rows = await judgedRows(await siteEntries(), identity);
    if (rows.length === 0) return changed;
    await putEntries(rows);
    changed += rows.length;
  }
}

async function judgedRows(site, identity) {
  const people = roster(site, identity.officeKey);
  const all = await transact(["entries"], "readonly", (store) =>
    store("entries").getAll());
  const late = lateRows(all, people, namesOfRevoked(site, identity.officeKey));
  const nobodys = keysOfNobody(all, people);
  const isNobodys = (row) => nobodys.some((key) => isSignedBy(row, key));
  const changed = [];
  for (const row of all) {
    const inDoubt = row.fault ? OPEN_DOUBTS.has(row.fault)
      : late.has(row.id) || isNobodys(row);
    if (row.mine || !inDoubt) continue;
    let found = row.fault || isNobodys(row)
      ? await doubt(readable(row.bytes), row, people, identity) : "revoked_key";
    if (found === "revoked_key") found = late.get(row.id);
    if (found === row.fault) continue;
    const { fault: _, ...kept } = row;
    changed.push(found ? { ...kept, fault: found } : kept);
  }
  return changed;
}

// What each revoked key signed: id -> its fault, or undefined where it was there before
// the revocation. Revocations of the first versions name nothing: what the office had
// before their place stands, and what that leads to.
function lateRows(all, people, named) {
  const found = new Map();
  for (const [key, { device, ended }] of revokedKeys(people)) {
    const names = named.get(key);
    const end = all.find((row) => row.id === ended)?.index ?? Infinity;
    const before = (row) => names.length === 0 && row.index < end;
    const late = all.filter((row) => !before(row) && isSignedBy(row, key));
    if (late.length === 0) continue;
    // The chain of a phone leads through the entries of everybody on it.
    const standing = new Set(names.length
      ? ledTo(bodiesOf(all.filter((row) => row.device === device)), names)
      : witnessed(bodiesOf(late), all.filter(before).map((row) => row.bytes)));
    for (const { id } of late) {
      found.set(id, standing.has(id) ? undefined : "revoked_key");
    }
  }
  return found;
}

// Keys that only an entry added which is not believed: what they signed is nobody's.
function keysOfNobody(all, people) {
  const adds = '"kind":"key_added"';
  return all.filter(({ fault, bytes }) => fault && bytes.includes(adds))
    .map(({ bytes }) => readable(bytes)).filter((entry) => entry?.kind === "key_added"
      && !findKey(people, entry.person, entry.about.key))
    .map((entry) => entry.about.key);
}

function bodiesOf(rows) {
  return new Map(rows.map((row) => [row.id, row.bytes]));
}

function namesOfRevoked(site, officeKey) {
  const found = new Map();
  for (const { kind, key, about, needs } of site) {
    if (kind !== "key_revoked" || key !== officeKey) continue;
    found.set(about.key, [...(found.get(about.key) ?? []), ...(needs ?? [])]);
  }
  return found;
}

function isSignedBy({ bytes }, key) {
  return bytes.includes(key) && readable(bytes)?.key === key;
}

function revokedKeys(people) {
  return Object.values(people).flatMap((person) => Object.entries(person.keys))
    .filter(([, key]) => key.status === "revoked");
}

async function doubt(entry, row, people, identity) {
  if (entry.site !== identity.site) return "other_site";
  const office = entry.key === identity.officeKey;
  const key = office ? { public: identity.officePublic, device: entry.device }
    : findKey(people, entry.person, entry.key);
  if (!key) return "unknown_key";
  if (key.device !== entry.device) return "other_device";
  if (!(await verify(key.public, row.bytes, row.sig))) return "bad_signature";
  return key.status === "revoked" ? "revoked_key" : undefined;
}

// What a newer office stores may be beyond this shell: kept, shown, never folded.
function readable(bytes) {
  try {
    return readEntry(bytes);
  } catch (fault) {
    if (fault instanceof EntryError) return null;
    throw fault;
  }
}
