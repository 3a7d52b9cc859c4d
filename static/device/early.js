// What the first screen needs, asked of the storage while the rest of the shell is
// still loading, in one reading. The view kept last is a copy of what the rules made of
// the entries; it is used only if not one entry has come or gone since.

import { transact } from "./database.js";

/** In place of a version, while the shell has not been kept. */
export const UNKEPT = "unkept";
const NAMES = [
  "settings", "identity", "lastSubject", "shift", "revision", "view", "copying",
  "heard",
];

/**
 * @returns {Promise<{settings?:object, identity?:object, lastSubject?:string,
 *   shift?:object, keys:object[], outbox:object, view?:object, copying?:object,
 *   heard?:number}>} `copying` is the paper sheet in hand, `heard` when the office was
 */
export const early = read();

/**
 * Keep the view of the open subject; it can be made again at any time.
 * @param {number} revision how often the storage had been written when it was read
 * @param {string} shell the version of the screens it is for
 */
export function keepView(revision, shell, view) {
  // Text is read back faster than the deep thing itself.
  const text = JSON.stringify(view);
  return transact(["meta"], "readwrite", (store) =>
    store("meta").put({ revision, shell, text }, "view"), "relaxed");
}

/**
 * Who may sign on this phone, each once: after a new code for somebody who was here
 * before, by the key made last, whose PIN was chosen last.
 * @param {object[]} keys rows @returns {object[]}
 */
export function signersOf(keys) {
  const rows = keys.filter((row) => row.person && !row.ended)
    .sort((a, b) => a.made - b.made);
  return [...new Map(rows.map((row) => [row.person, row])).values()];
}

async function read() {
  const [waiting, photos, keys, ...values] = await transact(
    ["meta", "keys", "entries", "photos"], "readonly", (store) => [
      store("entries").index("waiting").count(),
      store("photos").index("waiting").count(),
      store("keys").getAll(),
      ...NAMES.map((name) => store("meta").get(name)),
    ]);
  const found = Object.fromEntries(NAMES.map((name, place) => [name, values[place]]));
  found.view = viewOf(found);
  // Whole rows are read only where their number is not what was kept.
  const { outbox } = found.view ?? { outbox: { count: 0 } };
  const same = outbox.count === waiting + photos;
  return { ...found, keys, outbox: same ? outbox : await waitingForOffice() };
}

/** @returns {Promise<{count:number, photos?:number, since?:number}>} what it lacks */
export async function waitingForOffice() {
  const [rows, photos, oldest] = await transact(
    ["entries", "photos"], "readonly", (store) => [
      store("entries").index("waiting").getAll(),
      store("photos").index("waiting").count(),
      store("photos").index("waiting").openKeyCursor(),
    ]);
  return outboxOf(rows, photos, oldest);
}

// A view of another version of these screens may lack what they show.
function viewOf({ view, revision = 0, identity }) {
  const good = view?.text && view.revision === revision
    && view.shell === (identity?.shell ?? UNKEPT);
  return good ? JSON.parse(view.text) : undefined;
}

// What waits for the office: entries and photos, since when, and how many entries of
// them another phone has.
function outboxOf(rows, photos, oldest) {
  const count = rows.length + photos;
  if (count === 0) return { count };
  const made = rows.map((row) => row.made);
  const elsewhere = rows.filter((row) => row.elsewhere).length;
  return {
    count, photos, elsewhere, since: Math.min(...made, oldest?.key ?? Infinity),
  };
}
