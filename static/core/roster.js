// Who is who: people and their keys, folded from the entries the site's key signed.
// One thing people do themselves: with a key they have, and its PIN, they add a further
// one that is theirs too, on another phone. Only the site ends a key.

import { own } from "./own.js";

/** Kinds of entry that say who is who. */
export const ROSTER_KINDS = ["enrolled", "key_added", "key_retired", "key_revoked"];

/**
 * Fold enrolments and key endings into `{person: {name, roles, organisation, keys}}`.
 * Entries are taken in the given (ledger) order; but for a key that its person adds,
 * only those signed by `officeKey` (its key id) count, since enrolling people is the
 * site's own act. Each key gives `{public, device, status, since}` with status active,
 * retired or revoked; a revoked one `ended` too, the entry that says so, and an added
 * one `by`, the key that added it.
 * @param {Iterable<object>} entries @param {string} officeKey
 * @returns {Record<string, object>}
 */
export function roster(entries, officeKey) {
  const people = {};
  for (const entry of entries) {
    if (entry.kind === "key_added") add(people, entry);
    if (entry.key !== officeKey) continue;
    if (entry.kind === "enrolled") enrol(people, entry);
    else if (entry.kind === "key_retired" || entry.kind === "key_revoked") {
      endKey(people, entry);
    }
  }
  return people;
}

/** @returns {object|undefined} a person's key by its id, if it is theirs */
export function findKey(people, person, key) {
  return own(own(people, person)?.keys, key);
}

function enrol(people, { about, at }) {
  const person = own(people, about.person) ?? { keys: {} };
  people[about.person] = person;
  person.name = about.name;
  person.roles = [...about.roles];
  person.organisation = about.organisation;
  person.keys[about.key] ??= {
    public: about.public, device: about.device, status: "active", since: at,
  };
}

function add(people, { person, key, about, at, unlocked }) {
  const by = findKey(people, person, key);
  // A key whose PIN was forgotten adds nothing; of a lost one only what is known to be
  // older than the loss gets this far.
  if (!by || by.status === "retired" || unlocked !== "pin") return;
  if (Object.values(people).some((each) => Object.hasOwn(each.keys, about.key))) return;
  people[person].keys[about.key] = {
    public: about.public, device: about.device, status: "active", since: at, by: key,
  };
}

function endKey(people, entry) {
  const key = findKey(people, entry.about.person, entry.about.key);
  if (!key) return;
  if (entry.kind === "key_retired" && key.status === "active") key.status = "retired";
  else if (entry.kind === "key_revoked" && key.status !== "revoked") {
    Object.assign(key, { status: "revoked", ended: entry.id });
  }
}
