// Takes in what came from another phone's screen or a file, by the very same judgement
// as what comes by network. What stands is kept and later carried to the office; what
// no key of the roster vouches for yet is kept apart until one does. What can never be
// believed (a wrong signature, another site) is counted and not kept.

import { siteEntries } from "../book.js";
import { getMeta, putEntries, transact } from "../database.js";
import { judgeAgain, OPEN_DOUBTS, readSent } from "../judge.js";
import { markElsewhere } from "./elsewhere.js";

const MOST_APART = 2_000;

/**
 * Keep the entries of a parcel that can be believed, or may be one day.
 * @param {{bytes:string, sig:string}[]} entries
 * @returns {Promise<{fresh:number, known:number, apart:number, refused:number,
 *   subjects:string[], ids:string[]}>} `subjects`: of what stands, new or known
 */
export async function receive(entries) {
  const identity = await getMeta("identity");
  const site = [...(await siteEntries())];
  const here = new Map();
  const fresh = new Map();
  let refused = 0;
  let room = MOST_APART - (await rowsApart()).length;
  // Who signed may be told later in the same parcel: all is judged again at the end.
  for (const { bytes, sig } of entries) {
    const { row, known } = await readSent(bytes, sig, site, identity);
    if (!known && isSheet(row)) continue;
    if (known) here.set(row.id, row);
    else if (!row.fault) fresh.set(row.id, row);
    else if (OPEN_DOUBTS.has(row.fault) && room > 0) {
      room -= fresh.has(row.id) ? 0 : 1;
      fresh.set(row.id, row);
    } else refused += 1;
  }
  await putEntries([...fresh.values()].map((row) => ({ ...row, waiting: 1 })));
  await judgeAgain();
  await markElsewhere([...fresh.values()]);
  return reportOf(here, fresh, refused, await rowsApart());
}

// A sheet in force whose body is not here would hide the one that is: the office sends
// both together.
function isSheet({ subject, fault, bytes }) {
  return subject === "" && !fault && JSON.parse(bytes).kind === "sheet_issued";
}

function reportOf(here, fresh, refused, rowsNotBelieved) {
  const doubted = new Set(rowsNotBelieved.map((row) => row.id));
  const apart = [...fresh.keys()].filter((id) => doubted.has(id)).length;
  const standing = [...here.values(), ...fresh.values()]
    .filter((row) => !doubted.has(row.id));
  return {
    fresh: fresh.size - apart, known: here.size, apart, refused,
    subjects: [...new Set(standing.map((row) => row.subject).filter(Boolean))],
    ids: standing.map((row) => row.id),
  };
}

async function rowsApart() {
  const rows = await transact(["entries"], "readonly", (store) =>
    store("entries").getAll());
  return rows.filter((row) => OPEN_DOUBTS.has(row.fault));
}
