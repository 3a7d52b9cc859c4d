// What this phone knows of the office's history, and whether what it is told agrees.
// Judges only: nothing here fetches or keeps anything. A history that no longer holds
// what was seen is never believed silently.

import { sha256Hex } from "./bytes.js";
import { verify } from "./keys.js";

/** Before the first entry. */
export const START = { epoch: null, last: 0, head: "0".repeat(64) };

/**
 * Go one entry on.
 * @param {{last:number, head:string}} at @param {string} id of the entry that follows
 * @returns {Promise<{last:number, head:string}>}
 */
export async function onward(at, id) {
  return { last: at.last + 1, head: await sha256Hex(at.head + id) };
}

/** @returns {boolean} whether the office's end of the history denies ours */
export function contradicts(page, at) {
  return at.last > page.last || (at.last === page.last && page.head !== at.head);
}

/**
 * Whether a history begun anew has lost what was seen in the one before.
 * @param {{last:number, head:string}|undefined} seen @param {{last, head}[]} passed
 * @param {{last:number}} page
 * @returns {"same"|"lost"|null} null while it is still to be seen
 */
export function compare(seen, passed, page) {
  if (!seen) return null;
  const there = passed.find((at) => at.last === seen.last);
  if (there) return there.head === seen.head ? "same" : "lost";
  return page.last < seen.last ? "lost" : null;
}

/**
 * Whether a receipt is the office's and names every entry said to be in the ledger.
 * @param {{bytes:string, sig:string}|undefined} receipt @param {string} officePublic
 * @param {{id?:string, index?:number}[]} results
 */
export async function proves(receipt, officePublic, results) {
  if (!receipt || !(await verify(officePublic, receipt.bytes, receipt.sig))) {
    return false;
  }
  const named = new Map(
    JSON.parse(receipt.bytes).entries.map(({ id, index }) => [id, index]));
  return results.every(({ id, index }) =>
    index === undefined || named.get(id) === index);
}
