/**
 * The phone's own modules (`static/device`, `static/core`) as many phones in one Node:
 * each with its flash, its clock, its locks and its road. One phone works at a time.
 * What is tested is the program as it is served; only what a browser would lend it is
 * made up here.
 */

import { createHash } from "node:crypto";
import { registerHooks } from "node:module";
import { Flash } from "./flash.js";
import { asAtFirst, sendHalf } from "./lent.js";

const ROOT = new URL("../../", import.meta.url).href;
const DEVICE = `${ROOT}static/device/`;
const RULES = `${ROOT}fieldapp/core/`;
const PIN = "274951";
const SHELL = "v1";
const phones = new Map();
const realFetch = globalThis.fetch;
const realNow = Date.now;
let boots = 0;
let here = null;

// Every switching-on has modules of its own; the rules files lie where the office
// serves them from.
registerHooks({
  resolve(wanted, context, next) {
    const rule = wanted.match(/^\.\.\/core\/(\w+\.json)$/);
    if (rule) return next(`${RULES}${rule[1]}`, context);
    const found = next(wanted, context);
    const boot = context.parentURL?.match(/\?boot=\d+$/)?.[0];
    if (!boot || !found.url.startsWith(DEVICE)) return found;
    return { ...found, url: found.url + boot };
  },
});

/** Bring a phone to life, empty. */
export async function appear(name, address) {
  phones.set(name, { name, address, flash: new Flash(), skew: 0, signers: new Map() });
  await boot(name);
}

/** Bring one back from a backup of another. */
export async function appearLike(name, other) {
  const { address, flash, skew, signers } = phones.get(other);
  const copy = { name, address, flash: flash.copy(), skew, signers: new Map(signers) };
  phones.set(name, copy);
  await boot(name);
}

/** Switch a phone on again: everything in memory is new, the flash is as it was. */
export async function boot(name, { power = false } = {}) {
  const phone = phones.get(name);
  if (phone.modules) phone.flash.kill({ power });
  phone.flash = phone.flash.boot();
  phone.locks = makeLocks();
  use(phone);
  boots += 1;
  const load = (file) => import(`${DEVICE}${file}.js?boot=${boots}`);
  const files = ["journal", "sync", "enrolment", "enrolled", "keys", "database", "book",
    "faulty", "photos", "roads/receive", "roads/further"];
  const loaded = await Promise.all(files.map(load));
  phone.modules = Object.fromEntries(files.map((file, place) => [file, loaded[place]]));
}

/** Throw a phone into the river. */
export function vanish(name) {
  phones.delete(name);
}

export function setClock(name, skew) {
  phones.get(name).skew = skew;
}

/** Let the office be as it was at first: of its answers only what it told then. */
export function setOld(name) {
  phones.get(name).old = true;
}

/** Enrol a person; gives {key} or {fault}. */
export function enrol(name, code) {
  return attempt(name, {}, async ({ modules, signers }) => {
    const told = await modules.enrolment.enrolPerson(code, PIN, SHELL);
    signers.set(told.person, await modules.keys.unlock(told.key, PIN));
    const { device } = await modules.database.getMeta("identity");
    return { key: told.key, device };
  });
}

/** Let a person record, as of a shift begun; by another of their keys if named. */
export async function beginShift(name, person, key) {
  const { keys } = at(name).modules;
  const { signers } = phones.get(name);
  if (key) signers.set(person, { ...await keys.unlock(key, PIN), person });
  await keys.startShift(signers.get(person), Date.now() + 3_600_000);
}

/** Who may sign on a phone, as its screens list them. */
export async function signersHere(name) {
  return (await at(name).modules.enrolled.enrolledHere()).map((row) => row.person);
}

/** Have one of the phone's own modules do something. */
export function have(name, file, what, ...given) {
  return at(name).modules[file][what](...given);
}

/** Record one entry; gives {id}, {fault} or {killed}. */
export function record(name, draft, person, misfortune) {
  return attempt(name, misfortune, async ({ modules, signers }) => {
    const pin = ["release", "refusal", "disposition", "closing", "key_added"]
      .includes(draft.kind);
    const signer = { ...signers.get(person), unlocked: pin ? "pin" : "shift" };
    return { id: (await modules.journal.record(draft, signer)).id };
  });
}

/** Take a picture and record an entry that names it; gives as `record` does. */
export function photograph(name, bytes, draft, person, misfortune) {
  return attempt(name, misfortune, async ({ modules, signers }) => {
    const hash = await modules.photos.keepPhoto(new Blob([bytes]));
    const signer = { ...signers.get(person), unlocked: "shift" };
    const entry = await modules.journal.record({ ...draft, photos: [hash] }, signer);
    return { id: entry.id };
  });
}

/** One round with the office, or several; `faults` meet its requests in turn. */
export function sync(name, misfortune) {
  return attempt(name, misfortune, async ({ modules }) => {
    await modules.sync.syncOnce();
    return {};
  });
}

/** Take in what another phone showed; gives the report. */
export function bring(name, entries) {
  return attempt(name, {}, ({ modules }) => modules["roads/receive"].receive(entries));
}

/** Everything on a phone: its rows, and what it cries about. */
export async function holds(name) {
  const phone = at(name);
  const rows = await phone.modules.database.transact(["entries"], "readonly",
    (store) => store("entries").getAll());
  const { alarm } = phone.modules.sync.syncStatus();
  return { rows, ...(alarm ? { alarm } : {}) };
}

/** The pictures on a phone: hash, whether it waits, whether its bytes are whole. */
export async function pictures(name) {
  const phone = at(name);
  const rows = await phone.modules.database.transact(["photos"], "readonly",
    (store) => store("photos").getAll());
  return rows.map(({ hash, bytes, waiting }) => ({
    hash, waiting: waiting !== undefined,
    whole: sha256(new Uint8Array(bytes)) === hash,
  }));
}

function sha256(bytes) {
  return createHash("sha256").update(bytes).digest("hex");
}

/** What the office gave this phone to be known by. */
export async function token(name) {
  return (await at(name).modules.database.getMeta("identity")).token;
}

/** The texts of a subject that the phone would fold. */
export async function soundTexts(name, subject) {
  const phone = at(name);
  const entries = await phone.modules.book.entriesOf(subject);
  const rows = await phone.modules.book.rowsOf(subject);
  return entries.map((entry) => rows.get(entry.id).bytes);
}

async function attempt(name, misfortune = {}, work) {
  const phone = at(name);
  Object.assign(phone, { faults: [...(misfortune.faults ?? [])], late: [], met: [] });
  const { flash } = phone;
  flash.full = misfortune.full ?? null;
  flash.killAt = misfortune.killAfter ? flash.steps + misfortune.killAfter : Infinity;
  const found = await Promise.race([
    work(phone).catch(told), flash.dead.then(() => ({ killed: true }))]);
  flash.full = null;
  flash.killAt = Infinity;
  if (found.killed) await boot(name);
  return { ...found, late: phone.late, met: phone.met };
}

function told(fault) {
  const known = ["OfficeFault", "QuotaExceededError", "NotSaved", "AbortError",
    "WrongDocument"];
  const kind = fault.name === "Error" ? fault.constructor.name : fault.name;
  if (!known.includes(kind)) throw fault;
  return { fault: kind, status: fault.status ?? 0, message: fault.message };
}

function at(name) {
  const phone = phones.get(name);
  use(phone);
  return phone;
}

function use(phone) {
  here = phone;
  globalThis.indexedDB = phone.flash;
  globalThis.fetch = (path, options) => carry(phone, path, options);
  Date.now = () => realNow() + phone.skew;
  Object.defineProperty(globalThis, "navigator", {
    value: { locks: phone.locks }, configurable: true, writable: true });
}

function makeLocks() {
  const held = new Map();
  const request = async (lock, options, work = options) => {
    const before = held.get(lock);
    if (options.ifAvailable && before) return work(null);
    const mine = (async () => { await before; return work({ name: lock }); })();
    const over = mine.catch(() => {}).then(() => {
      if (held.get(lock) === over) held.delete(lock);
    });
    held.set(lock, over);
    return mine;
  };
  return { request };
}

async function carry(phone, path, options) {
  const fault = phone.faults.shift();
  const url = phone.address + path;
  if (fault) phone.met.push(fault);
  if (fault === "request lost") throw new TypeError(fault);
  if (fault === "request cut") await sendHalf(phone.address, path, options);
  if (fault === "request twice") await realFetch(url, options);
  if (fault === "request again later") {
    const { method, headers, body } = options;
    const raw = new Uint8Array(Buffer.from(body ?? ""));
    phone.late.push({ method, path, headers, body: raw });
  }
  const answer = await realFetch(url, options);
  const text = await answer.arrayBuffer();
  if (fault === "answer lost") throw new TypeError(fault);
  const whole = phone.old ? asAtFirst(path, text) : text;
  const shown = fault === "answer cut" ? whole.slice(0, whole.byteLength / 2) : whole;
  const { status, statusText, headers } = answer;
  return new Response(shown, { status, statusText, headers });
}
