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
  const levels = [];
  for (const [id, depth] of depths(known)) (levels[depth] ??= []).push(id);
  const ranked = levels.flatMap((ids) => ids.sort());
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

/** Give what two masks share, as text to compare. @returns {string} */
export function shared(mask, other) {
  let text = "";
  for (let word = 0; word < mask.length; word += 1) {
    text += `${mask[word] & other[word]},`;
  }
  return text;
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

// Those in or under a circle never come free. Most come after their parents; one that
// does not waits for a parent of its own and is looked at again when that has a depth.
function depths(known) {
  const depth = new Map();
  const waiting = new Map();
  for (const first of known.keys()) {
    const queue = [first];
    for (const id of queue) {
      const { after } = known.get(id);
      const late = after.find((parent) => !depth.has(parent) && known.has(parent));
      if (late !== undefined) addTo(waiting, late, id);
      else {
        let mine = 0;
        for (const parent of after) {
          mine = Math.max(mine, (depth.get(parent) ?? -1) + 1);
        }
        depth.set(id, mine);
        queue.push(...waiting.get(id) ?? []);
      }
    }
  }
  return depth;
}
