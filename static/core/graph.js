// Order within a subject: depth in the graph of `after`, then id. No clock orders.
// Each entry's own past is a bit mask over the ordered entries, 32 to a word, so that
// "had its author seen that" is one AND. Parents that have not arrived are tolerated.

import { addTo } from "./own.js";

/**
 * @typedef {object} Graph
 * @property {object[]} entries in order
 * @property {Map<string, number>} index place of each id
 * @property {Uint32Array[]} past mask of all ancestors of each entry
 * @property {Uint32Array} everything mask of all entries
 * @property {string[]} heads @property {string[]} missing sorted ids
 */

/**
 * Order a set of entries of one subject; repeats count once. Entries that name each
 * other in a circle cannot be signed honestly (an id is a hash of its parents); they
 * are left out, so that the function stays total.
 * @param {Iterable<object>} entries @returns {Graph}
 */
export function order(entries) {
  const known = new Map();
  for (const entry of entries) known.set(entry.id, entry);
  const depth = depths(known);
  const ranked = [...depth.keys()].sort((one, other) =>
    depth.get(one) - depth.get(other) || (one < other ? -1 : 1));
  const index = new Map(ranked.map((id, place) => [id, place]));
  const parents = new Set();
  const missing = new Set();
  const past = [];
  for (const id of ranked) {
    const mask = emptyMask(ranked.length);
    for (const parent of known.get(id).after) {
      const place = index.get(parent);
      if (place === undefined) missing.add(parent);
      else {
        merge(mask, past[place]);
        addPlace(mask, place);
        parents.add(parent);
      }
    }
    past.push(mask);
  }
  return {
    entries: ranked.map((id) => known.get(id)),
    index,
    past,
    everything: fullMask(ranked.length),
    heads: ranked.filter((id) => !parents.has(id)).sort(),
    missing: [...missing].sort(),
  };
}

/** @returns {boolean} whether a mask holds a place */
export function holds(mask, place) {
  return ((mask[place >>> 5] >>> (place & 31)) & 1) === 1;
}

/** Add to a mask all that another holds. */
export function merge(mask, other) {
  for (let word = 0; word < mask.length; word += 1) mask[word] |= other[word];
}

/** Add one place to a mask. */
export function addPlace(mask, place) {
  mask[place >>> 5] |= 1 << (place & 31);
}

/** @param {number} count of entries @returns {Uint32Array} */
export function emptyMask(count) {
  return new Uint32Array((count + 31) >>> 5);
}

function fullMask(count) {
  const mask = emptyMask(count);
  for (let place = 0; place < count; place += 1) addPlace(mask, place);
  return mask;
}

function depths(known) {
  const waiting = new Map();
  const children = new Map();
  for (const [id, entry] of known) {
    const present = entry.after.filter((parent) => known.has(parent));
    waiting.set(id, present.length);
    for (const parent of present) addTo(children, parent, id);
  }
  const queue = [...waiting.keys()].filter((id) => waiting.get(id) === 0);
  const depth = new Map(queue.map((id) => [id, 0]));
  for (const id of queue) {
    for (const child of children.get(id) ?? []) {
      depth.set(child, Math.max(depth.get(child) ?? 0, depth.get(id) + 1));
      waiting.set(child, waiting.get(child) - 1);
      if (waiting.get(child) === 0) queue.push(child);
    }
  }
  // A child of a circle was reached but never freed.
  return new Map([...depth].filter(([id]) => waiting.get(id) === 0));
}
