// Equipment and material of the site: what stores registered, and what replaced it.
// Order of arrival means nothing here either: a registration replaces the one it names.
// Of two that do not know of each other the one that expires sooner stands. A
// registration that replaces another and ends at the very moment it states takes the
// item out of use: nothing is read on it from then on, and what was read before stays.
// What it replaced says until when the item was good: it makes nothing good for longer.

import { LATEST_MS } from "./entries.js";

/**
 * Fold `registered` entries into `{item: {label, kind, numbers, entry, older}}`.
 * `expires` (ms UTC) where it was given; `older` are the entries it replaced; `out`,
 * why it was taken out of use, if it was.
 * @param {Iterable<object>} entries @returns {Record<string, object>}
 */
export function register(entries) {
  return Object.fromEntries(
    [...byItem(entries)].map(([item, known]) => [item, stands(known)]));
}

/** Give the registrations among entries, by item and id.
 * @returns {Map<string, Map<string, object>>} */
export function byItem(entries) {
  const found = new Map();
  for (const entry of entries) {
    if (entry.kind !== "registered") continue;
    const { item } = entry.about;
    if (!found.has(item)) found.set(item, new Map());
    found.get(item).set(entry.id, entry);
  }
  return found;
}

/**
 * Give until when an item is good by a registration, ms UTC; undefined: no end. What
 * takes it out of use ends what it replaced, where that was not over before.
 * @param {object} entry @param {Map<string, object>} known the item's registrations
 */
export function endOf(entry, known) {
  let { expires: end } = entry.about;
  let one = entry;
  // No more than there are: where they replace one another in a circle, it ends.
  for (const _ of known) {
    // As `takesOut` says, which is not needed at a start.
    if (!one?.about.replaces || one.about.expires !== one.at) break;
    one = known.get(one.about.replaces);
    end = Math.min(end, one?.about.expires ?? end);
  }
  return end;
}

/** Give the whole numbers a registration states. */
export function numbersOf(values) {
  return Object.fromEntries(Object.entries(values)
    .filter(([, value]) => typeof value === "number"));
}

function stands(known) {
  const all = [...known.values()];
  const replaced = new Set(all.map(({ about }) => about.replaces));
  const heads = all.filter(({ id }) => !replaced.has(id));
  const entry = (heads[0] ? heads : all).reduce((best, each) =>
    (stricter(each, best, known) ? each : best));
  const { at, about: { label, kind, expires, replaces, text = "" } } = entry;
  const older = [...known.keys()].filter((id) => id !== entry.id).sort();
  const numbers = numbersOf(entry.values);
  const item = { label, kind, numbers, entry: entry.id, older };
  if (expires !== undefined) item.expires = endOf(entry, known);
  if (replaces && expires === at) item.out = text;
  return item;
}

function stricter(entry, other, known) {
  const [end, ends] = [entry, other].map((one) => endOf(one, known) ?? LATEST_MS);
  return end < ends || (end === ends && entry.id < other.id);
}
