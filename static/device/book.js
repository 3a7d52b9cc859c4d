// The entries this phone holds, in memory as they are in storage. Read again when
// anything else (another tab, the sync) has written. Derived, and may be dropped at
// any time; what is unsound is kept in storage but never handed to a fold.

import { EntryError, entryOf } from "../core/entries.js";
import { order } from "../core/graph.js";
import kinds from "../core/kinds.json" with { type: "json" };
import { useKinds } from "../core/kinds.js";
import { getMeta, transact, writesHere } from "./database.js";
import { waitingForOffice } from "./early.js";

export { waitingForOffice };

useKinds(kinds);

const SITE = "";
let revision = -1;
let shelves = new Map();
let look = null;

/**
 * Entries of one subject ("" for the site's own), as read.
 * @returns {Promise<object[]>} sound entries; the array must not be changed
 */
export async function entriesOf(subject) {
  return (await shelf(subject)).entries;
}

/** @returns {Promise<string[]>} sorted ids of a subject's entries that none has seen */
export async function headsOf(subject) {
  // Another page may have written since the last look: what is signed names it too.
  look = null;
  const kept = await shelf(subject);
  kept.heads ??= order(kept.entries).heads;
  return kept.heads;
}

/** @returns {number} how often this storage had been written when it was last read */
export function revisionRead() {
  return revision;
}

/** @returns {Promise<object[]>} the site's own entries in the office's order */
export function siteEntries() {
  return entriesOf(SITE);
}

/**
 * Say whether subjects still hold as many entries as were counted of them.
 * @param {Map<string, number>} counts by subject @returns {Promise<boolean>}
 */
export async function holdStill(counts) {
  await shelf(SITE);
  for (const [subject, count] of counts) {
    const { entries } = shelves.get(subject) ?? await shelf(subject);
    if (entries.length !== count) return false;
  }
  return true;
}

/** @returns {Promise<Map<string, object>>} id -> row, for marks and originals */
export async function rowsOf(subject) {
  return (await shelf(subject)).rows;
}

/** Put an entry just saved by this page on its shelf, sparing a reading. */
export function shelve(row, entry) {
  revision += 1;
  const kept = shelves.get(row.subject);
  if (!kept) return;
  kept.entries = [...kept.entries, entry];
  kept.rows.set(row.id, row);
  // It has seen what it names; the whole graph need not be walked for that.
  kept.heads = kept.heads
    && [...kept.heads.filter((id) => !entry.after.includes(id)), entry.id].sort();
}

/** @returns {object} a row of the entries store for an entry and its signature */
export function rowOf(entry, bytes, sig) {
  return {
    id: entry.id, bytes, sig, subject: entry.subject ?? SITE, device: entry.device,
    seq: entry.seq, made: entry.made,
  };
}

/** @returns {Promise<object[]>} rows to offer, this device's chain in its order */
export async function waitingRows() {
  const rows = await transact(["entries"], "readonly", (store) =>
    store("entries").index("waiting").getAll());
  return rows.sort((a, b) => a.made - b.made || a.seq - b.seq);
}

async function shelf(subject) {
  const [now = 0, rows] = shelves.has(subject) ? [await lookNow()]
    : await transact(["meta", "entries"], "readonly", (store) => [
      store("meta").get("revision"), store("entries").index("subject").getAll(subject),
    ]);
  if (now !== revision) {
    const held = shelves.has(subject);
    shelves = new Map();
    revision = now;
    if (held) return shelf(subject);
  }
  if (rows) shelves.set(subject, readShelf(rows));
  // Another reader may have cleared the shelves while this one waited.
  return shelves.get(subject) ?? shelf(subject);
}

// One look at how often the storage was written serves all that is asked in the same
// task of the page; what this page wrote since calls for another.
function lookNow() {
  const written = writesHere();
  if (look?.written !== written) {
    const mine = { written, revision: getMeta("revision") };
    const over = () => setTimeout(() => { look = look === mine ? null : look; }, 0);
    mine.revision.then(over, over);
    look = mine;
  }
  return look.revision;
}

function readShelf(rows) {
  rows.sort((a, b) => (a.index ?? Infinity) - (b.index ?? Infinity) || a.seq - b.seq
    || (a.id < b.id ? -1 : 1));
  const sound = rows.filter((row) => !row.fault || row.mine);
  const [numbered, others] = [true, false].map((is) => sound
    .filter((row) => (row.index !== undefined) === is).map(readRow).filter(Boolean));
  return {
    entries: [...numbered, ...keysFirst(others)],
    rows: new Map(rows.map((row) => [row.id, row])),
  };
}

// What the office has not numbered yet stands behind what made its signer's key known:
// an empty phone gets both from another one.
function keysFirst(entries) {
  const [seen, order] = [new Set(), []];
  const makesKnown = (key) => ({ kind, about }) =>
    (kind === "enrolled" || kind === "key_added") && about.key === key;
  const put = (entry) => {
    if (seen.has(entry)) return;
    seen.add(entry);
    if (entry.kind === "key_added") entries.filter(makesKnown(entry.key)).forEach(put);
    order.push(entry);
  };
  entries.forEach(put);
  return order;
}

// One row that cannot be read must not hide the others.
function readRow(row) {
  try {
    return entryOf(JSON.parse(row.bytes), row.id);
  } catch (fault) {
    if (fault instanceof SyntaxError || fault instanceof EntryError) return null;
    throw fault;
  }
}
