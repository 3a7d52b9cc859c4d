// What takes an item out of use, for the screens of the register.

/** Whether a registration takes its item out of use; its text says why.
 * @param {object} entry @returns {boolean} */
export function takesOut({ about: { replaces, expires }, at }) {
  return Boolean(replaces) && expires === at;
}

/** The certificate that a registration is, or that what it took out had.
 * @param {object} [entry] @param {Map<string, object>} known registrations by id
 * @returns {object|undefined} */
export function certificateOf(entry, known) {
  let found = entry;
  while (found && takesOut(found)) found = known.get(found.about.replaces);
  return found;
}
