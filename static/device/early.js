// What the first screen needs, asked of the storage while the rest of the shell is
// still loading, in one reading. The view kept last is a copy of what the rules made of
// the entries; it is used only if not one entry has come or gone since.

import { transact } from "./database.js";

const NAMES = [
  "settings", "identity", "lastSubject", "shift", "revision", "view",
];

/**
 * @returns {Promise<{settings?:object, identity?:object, lastSubject?:string,
 *   shift?:object, keys:object[], outbox:object, view?:object}>}
 */
export const early = read();

/** Keep the view of the open subject; it can be made again at any time. */
export function keepView(view) {
  return transact(["meta"], "readwrite", (store, then) => {
    then(store("meta").get("revision"), (revision = 0) => {
      store("meta").put({ ...view, revision }, "view");
    });
  }, "relaxed");
}

async function read() {
  const [waiting, photos, oldest, keys, ...values] = await transact(
    ["meta", "keys", "entries", "photos"], "readonly", (store) => [
      store("entries").index("waiting").getAll(),
      store("photos").index("waiting").count(),
      store("photos").index("waiting").openKeyCursor(),
      store("keys").getAll(),
      ...NAMES.map((name) => store("meta").get(name)),
    ]);
  const found = Object.fromEntries(NAMES.map((name, place) => [name, values[place]]));
  if (found.view && found.view.revision !== (found.revision ?? 0)) delete found.view;
  return { ...found, keys, outbox: outboxOf(waiting, photos, oldest) };
}

/** What waits for the office: entries and photos, since when, and how many entries of
 * them another phone has. */
export function outboxOf(rows, photos, oldest) {
  const count = rows.length + photos;
  if (count === 0) return { count };
  const made = rows.map((row) => row.made);
  const elsewhere = rows.filter((row) => row.elsewhere).length;
  return {
    count, photos, elsewhere, since: Math.min(...made, oldest?.key ?? Infinity),
  };
}
