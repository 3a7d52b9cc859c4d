// Equipment and material of the site: what stores registered, and what replaced it.
// Order of arrival means nothing here either: a registration replaces the one it names.
// Of two that do not know of each other the one that expires sooner stands.

import { LATEST_MS } from "./entries.js";

/**
 * Fold `registered` entries into `{item: {label, kind, numbers, entry, older}}`.
 * `expires` (ms UTC) where it was given; `older` are the entries it replaced.
 * @param {Iterable<object>} entries @returns {Record<string, object>}
 */
export function register(entries) {
  const byItem = new Map();
  for (const entry of entries) {
    if (entry.kind !== "registered") continue;
    const { item } = entry.about;
    if (!byItem.has(item)) byItem.set(item, new Map());
    byItem.get(item).set(entry.id, entry);
  }
  return Object.fromEntries([...byItem].map(([item, known]) => [item, stands(known)]));
}

/** Give the whole numbers a registration states. */
export function numbersOf(values) {
  return Object.fromEntries(Object.entries(values)
    .filter(([, value]) => typeof value === "number"));
}

function stands(known) {
  const all = [...known.values()];
  const replaced = new Set(all.map((entry) => entry.about.replaces));
  const heads = all.filter((entry) => !replaced.has(entry.id));
  const entry = (heads.length > 0 ? heads : all).reduce((best, each) =>
    (stricter(each, best) ? each : best));
  const { label, kind, expires } = entry.about;
  const item = {
    label,
    kind,
    numbers: numbersOf(entry.values),
    entry: entry.id,
    older: [...known.keys()].filter((id) => id !== entry.id).sort(),
  };
  return expires === undefined ? item : { ...item, expires };
}

function stricter(entry, other) {
  const ends = [entry, other].map((each) => each.about.expires ?? LATEST_MS);
  return ends[0] < ends[1] || (ends[0] === ends[1] && entry.id < other.id);
}
