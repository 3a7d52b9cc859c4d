// What became of entries that came by screen or file, in words.

import { icon } from "../icons.js";
import { h } from "../parts.js";
import { words } from "./words.js";

const text = words.roads;
const KINDS = [
  ["fresh", "tick", "good"], ["known", "dash", "hint"],
  ["apart", "warn", "careful"], ["refused", "cross", "bad"],
];

/** @param {object} report as `receive` gives it @returns {HTMLElement} */
export function reportOf(report) {
  return h("section", { id: "received", role: "status" }, h("h2", {}, text.received),
    ...KINDS.filter(([kind]) => report[kind] > 0).map(([kind, mark, tone]) =>
      h(`p.${tone}`, { "data-received": kind }, icon(mark),
        text.became[kind](report[kind]))));
}
