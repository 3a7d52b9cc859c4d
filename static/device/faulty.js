// What of the kept entries wants to be looked at by a person.

import { transact } from "./database.js";

/** @returns {Promise<object[]>} rows the office did not take, or we do not trust */
export async function faultyRows() {
  const rows = await transact(["entries"], "readonly", (store) =>
    store("entries").getAll());
  // What was set apart and has an index was let in when its signer became known.
  return rows.filter((row) => row.fault
    || (row.office === "quarantined" && row.index === undefined));
}
