// The phone's own storage (IndexedDB). "Saved" means: a strict transaction has
// completed and the row was read back. Nothing here ever deletes an entry, and no
// handle is trusted for good: browsers close connections under a living page.

const NAME = "fieldapp";
const VERSION = 2;
const STORES = {
  entries: { keyPath: "id", indices: { subject: "subject", waiting: "waiting" } },
  keys: { keyPath: "key", indices: {} },
  meta: { indices: {} },
  library: { indices: {} },
  photos: { keyPath: "hash", indices: { waiting: "waiting" } },
};
const TRIES = 3;

let opening = null;
let writes = 0;

/** The device's chain moved on between signing and saving. */
export class ChainMoved extends Error {}

/** What was read back differs from what was written. */
export class NotSaved extends Error {}

/**
 * Run one transaction. `work` gets store(name) and then(request, go on), and answers
 * with a request, a list of requests, or nothing. What it throws undoes everything.
 * `durability` is relaxed only for what can be made again.
 * @returns {Promise<any>} the results, once the transaction has completed
 */
export async function transact(stores, mode, work, durability = "strict") {
  for (let attempt = 1; ; attempt += 1) {
    try {
      const database = await open();
      return await run(database.transaction(stores, mode, { durability }), work);
    } catch (fault) {
      if (attempt === TRIES || !isLostConnection(fault)) throw fault;
      opening = null;
    }
  }
}

/** @returns {number} how often this page has begun or ended writing entries */
export function writesHere() {
  return writes;
}

/** @returns {Promise<any>} one value of the meta store, or undefined */
export function getMeta(name) {
  return transact(["meta"], "readonly", (store) => store("meta").get(name));
}

/** @returns {Promise<any[]>} values of the meta store, read in one transaction */
export function getMetas(...names) {
  return transact(["meta"], "readonly", (store) =>
    names.map((name) => store("meta").get(name)));
}

/** Keep one value in the meta store, durably. */
export function putMeta(name, value) {
  return transact(["meta"], "readwrite", (store) => store("meta").put(value, name));
}

/** Forget one value of the meta store (never used for anything signed). */
export function dropMeta(name) {
  return transact(["meta"], "readwrite", (store) => store("meta").delete(name));
}

/**
 * Append one of this device's entries: only if the chain is still where its author
 * saw it, and only "saved" once it has been read back.
 * @param {{id:string,bytes:string,sig:string,seq:number}} row
 * @param {string|undefined} before id of the device's last entry when it was signed
 * @param {string} [unsaved] where its answers were kept until now; they go with it
 * @param {object} [latest] what the chain notes besides
 */
export async function appendEntry(row, before, unsaved, latest) {
  await writing((store, then) => {
    const counted = store("meta").get("revision");
    // Asked last, so that both have been answered when this one is.
    then(store("meta").get("chain"), (chain) => {
      // A retry after a lost connection may find its own first try done.
      if (chain?.id === row.id) return;
      if (chain?.id !== before) throw new ChainMoved("the chain moved on");
      store("entries").add(row);
      store("meta").put({ ...chain, ...latest, id: row.id, seq: row.seq }, "chain");
      if (unsaved) store("meta").delete(unsaved);
      store("meta").put((counted.result ?? 0) + 1, "revision");
    });
  });
  const back = await transact(["entries"], "readonly", (store) =>
    store("entries").get(row.id));
  if (back?.bytes !== row.bytes || back.sig !== row.sig) {
    throw new NotSaved("the entry could not be read back");
  }
}

/** Keep rows that came from elsewhere, or what the office said about ours. */
export function putEntries(rows, meta = {}) {
  return writing((store, then) => {
    for (const row of rows) store("entries").put(row);
    for (const [name, value] of Object.entries(meta)) store("meta").put(value, name);
    if (rows.length > 0) bumpRevision(store, then);
  });
}

/** Close the connection, so that the next use opens anew (the self-test of keys). */
export async function reopen() {
  if (opening) (await opening).close();
  opening = null;
}

async function writing(work) {
  writes += 1;
  try {
    return await transact(["entries", "meta"], "readwrite", work);
  } finally {
    writes += 1;
  }
}

function bumpRevision(store, then) {
  then(store("meta").get("revision"), (revision = 0) => {
    store("meta").put(revision + 1, "revision");
  });
}

function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION);
    request.onupgradeneeded = () => makeStores(request.result);
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const database = request.result;
      database.onclose = () => { opening = null; };
      database.onversionchange = () => { database.close(); opening = null; };
      resolve(database);
    };
  });
  opening.catch(() => { opening = null; });
  return opening;
}

function makeStores(database) {
  for (const [name, { keyPath, indices }] of Object.entries(STORES)) {
    if (database.objectStoreNames.contains(name)) continue;
    const store = database.createObjectStore(name, keyPath ? { keyPath } : undefined);
    for (const [index, path] of Object.entries(indices)) store.createIndex(index, path);
  }
}

function run(transaction, work) {
  return new Promise((resolve, reject) => {
    let reason = null;
    transaction.onabort = () => reject(reason ?? transaction.error);
    const guarded = (act) => {
      try {
        return act();
      } catch (fault) {
        reason = fault;
        transaction.abort();
        return undefined;
      }
    };
    const then = (request, goOn) => {
      request.onsuccess = () => guarded(() => goOn(request.result));
    };
    const asked = guarded(() => work((name) => transaction.objectStore(name), then));
    transaction.oncomplete = () => resolve(
      Array.isArray(asked) ? asked.map((one) => one.result) : asked?.result);
  });
}

function isLostConnection(fault) {
  return ["InvalidStateError", "UnknownError"].includes(fault?.name);
}
