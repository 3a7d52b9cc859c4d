/**
 * The rows of a phone's flash for tests: object stores and indices as one transaction
 * of `flash.js` sees them. Keys are text or numbers; what is read is a clone.
 */

/** One object store within a transaction (or none, while it is being made). */
export class Store {
  constructor(transaction, kept) {
    Object.assign(this, { transaction, kept });
  }

  createIndex(name, path) {
    this.kept.indices[name] = path;
  }

  index(name) {
    const path = this.kept.indices[name];
    return new Source(this.transaction, () => [...this.kept.rows.values()]
      .filter(({ value }) => value[path] !== undefined)
      .map((row) => ({ ...row, key: row.value[path], primaryKey: row.key }))
      .sort((a, b) => compare(a.key, b.key) || compare(a.primaryKey, b.primaryKey)));
  }

  get(key) {
    return this.transaction.ask(() => structuredClone(this.kept.rows.get(key)?.value));
  }

  put(value, key) {
    return this.#write(value, key, false);
  }

  add(value, key) {
    return this.#write(value, key, true);
  }

  delete(key) {
    return this.transaction.ask(() => { this.#set(key, undefined); });
  }

  getAll(wanted) {
    return this.#all().getAll(wanted);
  }

  getAllKeys() {
    return this.#all().getAllKeys();
  }

  count() {
    return this.#all().count();
  }

  #all() {
    return new Source(this.transaction, () => [...this.kept.rows.values()]
      .map((row) => ({ ...row, primaryKey: row.key }))
      .sort((a, b) => compare(a.key, b.key)));
  }

  #write(value, given, fresh) {
    const row = structuredClone(value);
    const key = this.kept.keyPath ? row[this.kept.keyPath] : given;
    return this.transaction.ask(() => {
      if (this.transaction.mode !== "readwrite") {
        throw new DOMException("read only", "ReadOnlyError");
      }
      if (this.transaction.flash.full === "request") throw quota();
      if (fresh && this.kept.rows.has(key)) {
        throw new DOMException("already there", "ConstraintError");
      }
      this.#set(key, { key, value: row });
      return key;
    });
  }

  #set(key, row) {
    const { rows } = this.kept;
    this.transaction.log.push([rows, key, rows.get(key)]);
    if (row) rows.set(key, row);
    else rows.delete(key);
  }
}

/** Rows in the order of a key, to be read in the ways the phone reads. */
class Source {
  constructor(transaction, rows) {
    Object.assign(this, { transaction, rows });
  }

  getAll(wanted) {
    return this.#read((rows) => rows.filter((row) =>
      wanted === undefined || row.key === wanted).map((row) =>
      structuredClone(row.value)));
  }

  getAllKeys() {
    return this.#read((rows) => rows.map((row) => row.primaryKey));
  }

  count() {
    return this.#read((rows) => rows.length);
  }

  openKeyCursor() {
    return this.#read(([first]) => (first ? { key: first.key } : null));
  }

  #read(shape) {
    return this.transaction.ask(() => shape(this.rows()));
  }
}

/** The disk is full, as a browser says it. */
export function quota() {
  return new DOMException("the flash is full", "QuotaExceededError");
}

function compare(a, b) {
  return a < b ? -1 : Number(a > b);
}
