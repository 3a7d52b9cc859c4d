/** Judges texts as entries: the id of what is taken, or the field that is refused. */

import { readFileSync } from "node:fs";

import { EntryError, readEntry } from "../../static/core/entries.js";
import { useKinds } from "../../static/core/kinds.js";

const kinds = new URL("../../fieldapp/core/kinds.json", import.meta.url);
useKinds(JSON.parse(readFileSync(kinds, "utf-8")));

/** @param {string[]} texts @returns {string[]} */
export function judged(texts) {
  return texts.map((text) => {
    try {
      return readEntry(text).id;
    } catch (error) {
      if (error instanceof EntryError) return error.where;
      throw error;
    }
  });
}
