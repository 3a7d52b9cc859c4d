// Which kept entries go on the road together. Only what stands here is handed on, with
// the enrolments of whoever signed it, so that the other phone can verify it with no
// network; an entry alone must fit one code and goes without. What stores entered on a
// phone goes with subjects: a lot the other phone does not know would shut its gate.

import { findKey, roster, ROSTER_KINDS } from "../../core/roster.js";
import { rowsOf, siteEntries } from "../book.js";
import { getMeta, transact } from "../database.js";

const SITE = "";
const MOST_PROVING = 16;

/** @returns {Promise<object[]>} rows of a subject and of the register, made here, that
 *   the office lacks */
export async function newHere(subject) {
  const rows = [...await believed(SITE, isItem), ...await believed(subject)];
  return inOrder(rows, (row) => row.mine && row.waiting);
}

/** @returns {Promise<object[]>} everything of a subject, the items it names as far as a
 *   phone entered them or the office lacks them, and who signed all this */
export async function everythingOf(subject) {
  const own = await believed(subject);
  const named = new Set(own.flatMap(({ bytes }) => JSON.parse(bytes).needs ?? []));
  const { officeKey } = await getMeta("identity");
  const items = await believed(SITE, (row) => isItem(row) && (row.waiting
    || (named.has(row.id) && JSON.parse(row.bytes).key !== officeKey)));
  const rows = inOrder([...items, ...own], () => true);
  const site = await rowsOf(SITE);
  const keys = new Set(rows.map((row) => JSON.parse(row.bytes).key));
  const signers = (await siteEntries()).filter((entry) =>
    ROSTER_KINDS.includes(entry.kind) && keys.has(entry.about.key));
  return [...signers.map((entry) => site.get(entry.id)), ...rows];
}

/** @returns {Promise<object[]>} one entry, if it is kept here */
export async function oneEntry(subject, id) {
  const row = (await rowsOf(subject)).get(id);
  return row ? [row] : [];
}

/** @returns {Promise<object[]>} an entry that adds a key, after what it rests on */
export async function keySignedFor(_subject, id) {
  const row = (await rowsOf(SITE)).get(id);
  const { officeKey } = await getMeta("identity");
  const { person, about } = JSON.parse(row.bytes);
  return proofOfKey(person, about.key, officeKey);
}

/**
 * What made a key known: its enrolment by the office, or the entry that added it, after
 * the same of the key that signed that.
 * @returns {Promise<object[]>} rows, as far as they are here
 */
export async function proofOfKey(person, key, officeKey) {
  const [site, rows] = [await siteEntries(), await rowsOf(SITE)];
  const people = roster(site, officeKey);
  const found = [];
  let wanted = key;
  for (let steps = 0; wanted && steps < MOST_PROVING; steps += 1) {
    const by = findKey(people, person, wanted)?.by;
    const is = [by ? "key_added" : "enrolled", by ?? officeKey, wanted].join();
    const entry = site.find(({ kind, key: signer, about }) =>
      [kind, signer, about?.key].join() === is);
    if (entry) found.unshift(rows.get(entry.id));
    wanted = by;
  }
  return found;
}

/** @returns {Promise<object[]>} who is who: what the site said of people and keys */
export async function wholeRoster() {
  const site = await rowsOf(SITE);
  return (await siteEntries()).filter((entry) => ROSTER_KINDS.includes(entry.kind))
    .map((entry) => site.get(entry.id));
}

/** @returns {Promise<object[]>} every entry that stands here, for a file */
export async function everything() {
  const rows = await transact(["entries"], "readonly", (store) =>
    store("entries").getAll());
  return inOrder(rows, (row) => row.mine || !row.fault);
}

async function believed(subject, wanted = () => true) {
  return [...(await rowsOf(subject)).values()]
    .filter((row) => (row.mine || !row.fault) && wanted(row));
}

function isItem({ bytes }) {
  return JSON.parse(bytes).kind === "registered";
}

function inOrder(rows, wanted) {
  return rows.filter(wanted).sort((a, b) => a.made - b.made || a.seq - b.seq);
}
