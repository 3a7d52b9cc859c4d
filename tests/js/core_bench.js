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
  const fold = foldOf(text);
  return Array.from({ length: times }, () => {
    const before = performance.now();
    fold();
    return performance.now() - before;
  });
}

/** @returns {object} what the measured fold gives */
export function state(text) {
  return foldOf(text)();
}

function foldOf(text) {
  const { sheet, tables, entries, standing, now } = JSON.parse(text);
  const prepared = prepare(sheet, tables);
  const read = entries.map((each) => readEntry(each));
  return () => fold(prepared, read, standing, now);
}
