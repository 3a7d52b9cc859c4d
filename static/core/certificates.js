// Which certificate of an item a subject's readings are judged by. A reading names the
// registration it relied on. What is registered later does not judge it again: a
// renewed calibration leaves finished work as it is, and a corrected one (replaced with
// a reason) raises a nonconformance that says so, no more.

import { own } from "./own.js";
import { byItem, endOf, numbersOf, register } from "./register.js";

/**
 * Fold registrations that count as `register` does, with all their certificates.
 * `certificates`: for each registration of the item, by entry id, `numbers` and where
 * it ends `expires`; `older` keeps only what was replaced with a reason.
 * @param {Iterable<object>} entries @returns {Record<string, object>}
 */
export function certified(entries) {
  const told = [...entries].filter((entry) => entry.kind === "registered");
  const items = register(told);
  const corrected = new Set(told.filter(({ about }) => about.reason)
    .map(({ about }) => about.replaces));
  for (const [name, known] of byItem(told)) {
    const item = items[name];
    item.certificates = Object.fromEntries([...known].map(([id, entry]) => {
      const expires = endOf(entry, known);
      return [id, { numbers: numbersOf(entry.values),
        ...(expires === undefined ? {} : { expires }) }];
    }));
    item.older = item.older.filter((id) => corrected.has(id));
  }
  return items;
}

/**
 * Give the items that readings name, with the certificate they relied on. Where
 * readings of one subject relied on several, the last one's stands for all.
 * @param {Record<string, object>} items as `certified` gives them
 * @param {object[]} entries @returns {Record<string, object>}
 */
export function itemsReliedOn(items, entries) {
  const found = {};
  const later = (one, other) =>
    one.at - other.at || (one.id < other.id ? -1 : 1);
  for (const { values, needs } of [...entries].sort(later)) {
    for (const name of Object.values(values)) {
      if (typeof name !== "string" || !own(items, name)) continue;
      const { expires, ...item } = own(found, name) ?? items[name];
      const relied = Object.keys(item.certificates).sort()
        .find((id) => needs.includes(id));
      if (relied) found[name] = { ...item, ...item.certificates[relied] };
      else found[name] = own(found, name) ?? items[name];
    }
  }
  return found;
}
