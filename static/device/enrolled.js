// Who is enrolled on this phone, as its keys say it and the roster tells it later.

import { getMeta, putMeta } from "./database.js";
import { signersOf } from "./early.js";
import { endShift, listKeys, nameKey, shiftSigner } from "./keys.js";

/** @returns {Promise<object[]>} key rows of people who may sign on this phone */
export async function enrolledHere() {
  return signersOf(await listKeys());
}

/**
 * Write beside this phone's keys what the roster says: whose a key is that was asked
 * for here, and which the office has ended. Nothing is wiped.
 * @param {object} people the roster
 */
export async function settleKeys(people) {
  const found = new Map(Object.entries(people).flatMap(([person, { name, keys }]) =>
    Object.entries(keys).map(([id, key]) => [id, { person, name, ...key }])));
  for (const row of await listKeys()) {
    const told = found.get(row.key);
    if (!told) continue;
    const ended = told.status === "active" ? undefined : told.status;
    if (row.person && row.ended === ended) continue;
    await nameKey(row.key, { person: told.person, name: told.name, ended });
    if (ended === "revoked" && (await shiftSigner())?.key === row.key) await endShift();
  }
}

/** Note the shell's version for the entries to come. */
export async function noteShell(shell) {
  const identity = await getMeta("identity");
  if (identity && identity.shell !== shell) {
    await putMeta("identity", { ...identity, shell });
  }
}
