// The revisions of a subject's sheet: an entry is judged by the one it names.

import { partHashes, prepare } from "./sheet.js";

/**
 * Give a subject's sheets (by hash), each made ready when it is first asked for. One
 * whose tables are not all here is as good as not here.
 */
export function revisionsOf(sheets, tables) {
  const made = new Map();
  return function find(key) {
    const raw = Object.hasOwn(sheets, key ?? "") && sheets[key];
    if (raw && !made.has(key)
      && Object.values(raw.tables).every((each) => Object.hasOwn(tables, each))) {
      const others = Object.entries(sheets).filter(([name]) => name !== key);
      const older = Object.fromEntries(
        others.map(([name, each]) => [name, partHashes(each)]));
      made.set(key, prepare(raw, tables, older, find));
    }
    return made.get(key);
  };
}
