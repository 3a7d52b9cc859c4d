/** Measures how long one case takes to fold; the clock is the tests' own. */

import { readFileSync } from "node:fs";

import { readEntry } from "../../static/core/entries.js";
import { fold } from "../../static/core/fold.js";
import { useKinds } from "../../static/core/kinds.js";
import { prepare } from "../../static/core/sheet.js";

const kinds = new URL("../../fieldapp/core/kinds.json", import.meta.url);
useKinds(JSON.parse(readFileSync(kinds, "utf-8")));

/** @returns {number[]} the milliseconds of each of `times` folds, first one first */
export function measure(text, times) {
  const { sheet, tables, entries, standing, now } = JSON.parse(text);
  const prepared = prepare(sheet, tables);
  const read = entries.map((each) => readEntry(each));
  return Array.from({ length: times }, () => {
    const before = performance.now();
    fold(prepared, read, standing, now);
    return performance.now() - before;
  });
}
