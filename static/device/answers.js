// What the office said of entries that were offered, and what its receipts promised. A
// promise is kept until a pull has shown it: an office whose file was put back in
// silence may lack an entry it answered for, although all that is pulled looks sound.

import { sha256Hex } from "./bytes.js";
import { putEntries, transact } from "./database.js";
import { keepPaper } from "./library.js";

/**
 * Keep answers, receipt and promise: the entry leaves the outbox with the promise.
 * @param {object[]} rows as offered @param {{results:object[], receipt:object}} answer
 * @returns {Promise<number>} how many rows were answered
 */
export async function keepAnswers(rows, { results, receipt }) {
  const done = matched(rows, results).map(([row, result]) => answered(row, result));
  const { last, head } = JSON.parse(receipt.bytes);
  const promises = [...(await promised()), { last, head }];
  await putEntries(done, { promises });
  await keepPaper(`receipt:${await sha256Hex(receipt.bytes)}`, JSON.stringify(receipt));
  return done.length;
}

/** @returns {Promise<{last:number, head:string}[]>} what no pull has shown yet */
export async function promised() {
  return (await transact(["meta"], "readonly", (store) =>
    store("meta").get("promises"))) ?? [];
}

/**
 * Hold promises against what a page showed.
 * @param {{last:number, head:string}[]} promises
 * @param {{last:number, head:string}[]} passed from where the page began to its end
 * @param {{last:number}} page
 * @returns {{broken:boolean, left:object[]}} `left` is still to be shown
 */
export function heldAgainst(promises, passed, page) {
  const heads = new Map(passed.map((at) => [at.last, at.head]));
  const broken = promises.some(({ last, head }) => last > page.last
    || last < passed[0].last || (heads.has(last) && heads.get(last) !== head));
  return { broken, left: promises.filter(({ last }) => last > passed.at(-1).last) };
}

// Answers come in the order of the batch; one about unreadable bytes may have no id.
function matched(rows, results) {
  const inOrder = results.length === rows.length;
  return rows.map((row, place) => [row, inOrder ? results[place]
    : results.find((one) => one.id === row.id)])
    .filter(([, result]) => result);
}

function answered(row, result) {
  const { waiting, ...kept } = row;
  kept.office = result.result;
  if (result.index !== undefined) kept.index = result.index;
  if (result.reason) kept.reason = result.reason;
  if (result.result === "unreadable") kept.fault = result.reason ?? "unreadable";
  else if (result.id && result.id !== row.id) kept.fault = "spoiled here";
  return kept;
}
