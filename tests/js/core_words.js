/** How vectors write what JSON cannot: ratios, what is missing, what is out. */

import { OUT } from "../../static/core/numbers.js";

export const BASES = {
  note: { kind: "note", about: { text: "x" } },
  done: { kind: "done", step: "wipe" },
};

export const COMMON = {
  format: 1, site: "test", subject: "J1", rules: 1, person: "ann", device: "d",
  key: "ab".repeat(32), seq: 1, after: [], at: 1, at_by: "tap", made: 1, zone: 0,
  session: "s", mono: 0, shell: "v",
};

/** Write nothing as a word, in lists too. */
export function plain(value) {
  if (value === undefined) return "missing";
  if (value === OUT) return "out";
  return Array.isArray(value) ? value.map(plain) : value;
}

/** Write a kernel's value. */
export function shownRatio(value) {
  return value === undefined || value === OUT ? plain(value) : value.join("/");
}

/** Write which names a map of maps has. */
export function namesBy(found) {
  return Object.fromEntries([...found].map(([name, known]) =>
    [name, [...known.keys()].sort()]));
}
