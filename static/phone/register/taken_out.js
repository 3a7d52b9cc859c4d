// What takes an item out of use, for the screens of the register.

/** Whether a registration takes its item out of use; its text says why.
 * @param {object} entry @returns {boolean} */
export function takesOut({ about: { replaces, expires }, at }) {
  return Boolean(replaces) && expires === at;
}
