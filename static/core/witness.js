// Which entries were there before a key was revoked, said by hashes and not by clocks.
// An entry whose id stands in the bytes of an older one existed before that: nobody can
// name a hash that is still to be made. What it names in turn is older still.

const NAMED = /"([0-9a-f]{64})"/g;

/**
 * Give the ids, sorted, of late entries which earlier ones lead to.
 * @param {Map<string, string>} late bodies by id, what came after the revocation
 * @param {Iterable<string>} earlier bodies of entries from before it
 * @returns {string[]}
 */
export function witnessed(late, earlier) {
  return ledTo(late, Array.from(earlier, namedIn).flat());
}

/**
 * Give the ids, sorted, of those entries which names lead to.
 * @param {Map<string, string>} bodies by id @param {string[]} names
 * @returns {string[]}
 */
export function ledTo(bodies, names) {
  const found = new Set(names.filter((name) => bodies.has(name)));
  // A set goes on to what is added while it is walked.
  for (const id of found) {
    for (const name of namedIn(bodies.get(id))) if (bodies.has(name)) found.add(name);
  }
  return [...found].sort();
}

function namedIn(body) {
  return Array.from(body.matchAll(NAMED), ([, name]) => name);
}
