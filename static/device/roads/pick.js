// Which kept entries go on the road together. Only what stands here is handed on, with
// the enrolments of whoever signed it, so that the other phone can verify it with no
// network; an entry alone must fit one code and goes without.

import { ROSTER_KINDS } from "../../core/roster.js";
import { rowsOf, siteEntries } from "../book.js";
import { transact } from "../database.js";

const SITE = "";

/** @returns {Promise<object[]>} rows of a subject made here that the office lacks */
export async function newHere(subject) {
  return inOrder(await believed(subject), (row) => row.mine && row.waiting);
}

/** @returns {Promise<object[]>} everything of a subject, and who signed it */
export async function everythingOf(subject) {
  const rows = inOrder(await believed(subject), () => true);
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

async function believed(subject) {
  return [...(await rowsOf(subject)).values()].filter((row) => row.mine || !row.fault);
}

function inOrder(rows, wanted) {
  return rows.filter(wanted).sort((a, b) => a.made - b.made || a.seq - b.seq);
}
