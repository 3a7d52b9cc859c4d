// Which of this phone's entries are on another phone too, as far as that is proved: an
// entry signed on another phone has them in its past, so they had been read there.

import { holds, order } from "../../core/graph.js";
import { entriesOf, rowsOf } from "../book.js";
import { transact } from "../database.js";

/** Mark what waits here and is named by what arrived. @param {object[]} rows */
export async function markElsewhere(rows) {
  const subjects = new Set(rows.map((row) => !row.mine && row.subject));
  for (const subject of subjects) if (subject) await markSubject(subject);
}

async function markSubject(subject) {
  const kept = await rowsOf(subject);
  const waiting = [...kept.values()].filter((row) => row.mine && row.waiting);
  if (waiting.length === 0) return;
  const { entries, index, past } = order(await entriesOf(subject));
  const others = entries.filter(({ device }) => device !== waiting[0].device)
    .map(({ id }) => past[index.get(id)]);
  const read = waiting.filter(({ id }) =>
    others.some((mask) => holds(mask, index.get(id))));
  // Nothing that is folded changes, so what was folded stays good.
  await transact(["entries"], "readwrite", (store, then) => {
    for (const { id } of read) {
      then(store("entries").get(id), (row) => {
        store("entries").put({ ...row, elsewhere: 1 });
      });
    }
  });
}
