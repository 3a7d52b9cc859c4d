/**
 * A phone's flash for tests: the part of IndexedDB the phone uses, in memory, with the
 * misfortunes a browser cannot be asked for: killed at any step, a full disk (told at
 * the request or at the commit), power gone before a relaxed commit was flushed, and
 * a backup brought back. Transactions run one after another; values are cloned.
 */

import { quota, Store } from "./flash_rows.js";

const tick = () => new Promise((go) => { setImmediate(go); });
const never = new Promise(() => {});

/** Everything one phone keeps; give it to the modules as `indexedDB`. */
export class Flash {
  constructor(databases = new Map()) {
    this.databases = databases;
    this.turn = Promise.resolve();
    this.steps = 0;
    this.killAt = Infinity;
    this.full = null;
    this.unflushed = [];
    this.dead = new Promise((tell) => { this.tellDead = tell; });
  }

  /** The same flash once more, as a backup of it would bring it back. */
  copy() {
    return new Flash(structuredClone(this.databases));
  }

  /** End the page here: what runs is undone, nobody hears anything more. */
  kill({ power = false } = {}) {
    this.killAt = -1;
    this.running?.undo();
    if (power) for (const log of this.unflushed.reverse()) undo(log);
    this.tellDead();
  }

  /** Switch on again after a kill. */
  boot() {
    return new Flash(this.databases);
  }

  /** One step of the storage; here a phone may die. */
  async step() {
    await tick();
    this.steps += 1;
    if (this.killAt >= 0 && this.steps >= this.killAt) this.kill();
    if (this.killAt < 0) await never;
  }

  open(name, version) {
    const request = {};
    this.#open(request, name, version);
    return request;
  }

  async #open(request, name, version) {
    await this.step();
    const known = this.databases.get(name) ?? { version: 0, stores: new Map() };
    this.databases.set(name, known);
    request.result = new Database(this, known);
    if (known.version < (version ?? known.version)) {
      known.version = version;
      request.onupgradeneeded?.();
    }
    request.onsuccess?.();
  }
}

class Database {
  constructor(flash, known) {
    Object.assign(this, { flash, known, closed: false });
    this.objectStoreNames = { contains: (name) => known.stores.has(name) };
  }

  createObjectStore(name, { keyPath } = {}) {
    const kept = { keyPath, indices: {}, rows: new Map() };
    this.known.stores.set(name, kept);
    return new Store(null, kept);
  }

  transaction(names, mode = "readonly", { durability } = {}) {
    if (this.closed) throw new DOMException("closed", "InvalidStateError");
    const missing = [names].flat().find((name) => !this.known.stores.has(name));
    if (missing) throw new DOMException(missing, "NotFoundError");
    return new Transaction(this, mode, durability);
  }

  close() {
    this.closed = true;
  }
}

class Transaction {
  constructor(database, mode, durability) {
    Object.assign(this, { database, mode, relaxed: durability === "relaxed" });
    this.flash = database.flash;
    this.asked = [];
    this.log = [];
    this.error = null;
    this.flash.turn = this.flash.turn.then(() => this.#run());
  }

  objectStore(name) {
    return new Store(this, this.database.known.stores.get(name));
  }

  abort() {
    this.over = true;
    this.undo();
  }

  undo() {
    undo(this.log);
    this.log = [];
  }

  ask(work) {
    if (this.over) throw new DOMException("over", "TransactionInactiveError");
    const request = {};
    this.asked.push([request, work]);
    return request;
  }

  async #run() {
    this.flash.running = this;
    while (this.asked.length > 0 && !this.over) {
      await this.flash.step();
      this.#serve(...this.asked.shift());
    }
    await this.flash.step();
    if (!this.over && this.log.length > 0 && this.flash.full === "commit") {
      this.#fail(quota());
    }
    this.flash.running = null;
    if (!this.over) await this.#commit();
    else this.onabort?.();
  }

  #serve(request, work) {
    try {
      request.result = work();
    } catch (fault) {
      request.error = fault;
      request.onerror?.({ preventDefault() {} });
      this.#fail(fault);
      return;
    }
    request.onsuccess?.();
  }

  #fail(fault) {
    this.error = fault;
    this.abort();
  }

  // Written for good, and only then told: a phone may die between the two.
  async #commit() {
    this.over = true;
    if (this.log.length > 0) {
      if (this.relaxed) this.flash.unflushed.push(this.log);
      else this.flash.unflushed = [];
    }
    await this.flash.step();
    this.oncomplete?.();
  }
}

function undo(log) {
  for (const [rows, key, before] of log.reverse()) {
    if (before) rows.set(key, before);
    else rows.delete(key);
  }
}
