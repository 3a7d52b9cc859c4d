// People's signing keys on this phone: made here, never leaving it readable. A key
// rests wrapped under the PIN and under a secret the browser will not give away, so
// neither alone opens it. Nothing here is ever wiped, and a wrong PIN holds up only
// its own person's next PIN, never the recording.

import { sha256Hex, toBase64url, fromBase64url, randomBytes, utf8 } from "./bytes.js";
import { wallMs } from "./clock.js";
import { getMeta, putMeta, dropMeta, reopen, transact } from "./database.js";

const ROUNDS = 600_000;
const CURVE = { name: "ECDSA", namedCurve: "P-256" };
const SIGNING = { name: "ECDSA", hash: "SHA-256" };
const FREE_TRIES = 3;
const WAITS_MS = [30_000, 60_000, 120_000, 300_000, 900_000];
const LONGEST_WAIT_MS = 900_000;

/** A wrong PIN, or one asked for too soon; `wait_ms` says how long to wait. */
export class PinRefused extends Error {
  constructor(waitMs) {
    super("the PIN was refused");
    this.waitMs = waitMs;
  }
}

/** Web Crypto or the storage of keys does not do on this phone what it must. */
export class KeysBroken extends Error {}

/**
 * Make a key pair for a person still to be named by the office.
 * @param {string} pin
 * @returns {Promise<object>} the row to keep; `public` is what the office gets
 */
export async function makeKey(pin) {
  const pair = await crypto.subtle.generateKey(CURVE, true, ["sign", "verify"]);
  const raw = new Uint8Array(await crypto.subtle.exportKey("raw", pair.publicKey));
  const row = {
    key: await sha256Hex(raw),
    public: toBase64url(raw),
    salt: randomBytes(16),
    iv: randomBytes(12),
    fails: 0,
    notBefore: 0,
    made: wallMs(),
  };
  const secret = await crypto.subtle.exportKey("pkcs8", pair.privateKey);
  row.wrapped = await crypto.subtle.encrypt(
    sealing(row), await wrappingKey(pin, row.salt), secret);
  new Uint8Array(secret).fill(0);
  return row;
}

/** Keep a key row, then prove that it survives a reopening and signs what verifies. */
export async function keepKey(row, pin) {
  await putKey(row);
  await reopen();
  const signer = await unlock(row.key, pin);
  if (!(await proves(signer.privateKey, row.public))) {
    throw new KeysBroken("a kept key does not sign");
  }
}

/** @returns {Promise<object[]>} all key rows of this phone */
export function listKeys() {
  return transact(["keys"], "readonly", (store) => store("keys").getAll());
}

/** Write what the office said about a key (person, name) beside it. */
export async function nameKey(key, facts) {
  await putKey({ ...(await getKey(key)), ...facts });
}

/**
 * Unlock a key by PIN. The try is counted before it is made, so that killing the
 * browser wins nothing.
 * @returns {Promise<{person:string,key:string,privateKey:CryptoKey,unlocked:"pin"}>}
 */
export async function unlock(key, pin) {
  const row = await getKey(key);
  const wait = waitMs(row);
  if (wait > 0) throw new PinRefused(wait);
  const fails = row.fails + 1;
  const notBefore = fails < FREE_TRIES ? 0
    : wallMs() + WAITS_MS[Math.min(fails - FREE_TRIES, WAITS_MS.length - 1)];
  await putKey({ ...row, fails, notBefore });
  const privateKey = await open(row, pin);
  if (!privateKey) throw new PinRefused(notBefore ? notBefore - wallMs() : 0);
  await putKey({ ...row, fails: 0, notBefore: 0 });
  return { person: row.person, key, privateKey, unlocked: "pin" };
}

/** @returns {Promise<number>} ms until a key's PIN may be tried again */
export async function pinWait(key) {
  return waitMs(await getKey(key));
}

function waitMs(row) {
  const wait = row.notBefore - wallMs();
  return Math.max(0, Math.min(wait, LONGEST_WAIT_MS));
}

/** Keep an unlocked key, unreadable but usable, until the shift ends. */
export async function startShift(signer, until) {
  await putMeta("shift", { ...signer, unlocked: "shift", until });
}

/** @returns {Promise<object|undefined>} the signer of the running shift */
export async function shiftSigner() {
  const shift = await getMeta("shift");
  if (!shift || shift.until <= wallMs()) return undefined;
  return shift;
}

/** End the shift: the unlocked key goes, the wrapped one and all entries stay. */
export function endShift() {
  return dropMeta("shift");
}

/** @returns {Promise<string>} r||s of the text's UTF-8, base64url */
export async function sign(privateKey, text) {
  const raw = await crypto.subtle.sign(SIGNING, privateKey, utf8(text));
  return toBase64url(new Uint8Array(raw));
}

/** @param {string} publicText raw point, base64url @returns {Promise<boolean>} */
export async function verify(publicText, text, signature) {
  try {
    const key = await crypto.subtle.importKey(
      "raw", fromBase64url(publicText), CURVE, false, ["verify"]);
    return await crypto.subtle.verify(
      SIGNING, key, fromBase64url(signature), utf8(text));
  } catch (fault) {
    // Bytes that are no key or no signature verify nothing.
    if (fault instanceof DOMException) return false;
    throw fault;
  }
}

/** At start: can this phone still read and use its keys? Some browsers lose them. */
export async function keysWork() {
  const secret = await getMeta("secret");
  const shift = await getMeta("shift");
  const rows = await listKeys();
  if (rows.length > 0 && !(secret instanceof CryptoKey)) return false;
  if (!shift) return true;
  if (!(shift.privateKey instanceof CryptoKey)) return false;
  const row = rows.find((one) => one.key === shift.key);
  return row !== undefined && proves(shift.privateKey, row.public);
}

async function proves(privateKey, publicText) {
  const text = "self-test";
  return verify(publicText, text, await sign(privateKey, text));
}

async function open(row, pin) {
  try {
    const secret = await crypto.subtle.decrypt(
      sealing(row), await wrappingKey(pin, row.salt), row.wrapped);
    return await crypto.subtle.importKey("pkcs8", secret, CURVE, false, ["sign"]);
  } catch (fault) {
    if (fault?.name === "OperationError") return null;
    throw fault;
  }
}

async function wrappingKey(pin, salt) {
  const base = await crypto.subtle.importKey("raw", utf8(pin), "PBKDF2", false,
    ["deriveBits"]);
  const stretched = await crypto.subtle.deriveBits(
    { name: "PBKDF2", hash: "SHA-256", salt, iterations: ROUNDS }, base, 256);
  const bound = await crypto.subtle.sign("HMAC", await deviceSecret(), stretched);
  return crypto.subtle.importKey(
    "raw", bound, "AES-GCM", false, ["encrypt", "decrypt"]);
}

function sealing(row) {
  return { name: "AES-GCM", iv: row.iv, additionalData: utf8(row.key) };
}

async function deviceSecret() {
  const kept = await getMeta("secret");
  if (kept) return kept;
  const made = await crypto.subtle.generateKey(
    { name: "HMAC", hash: "SHA-256" }, false, ["sign"]);
  await putMeta("secret", made);
  const back = await getMeta("secret");
  if (!(back instanceof CryptoKey)) throw new KeysBroken("keys cannot be kept here");
  return back;
}

async function getKey(key) {
  const row = await transact(["keys"], "readonly", (store) => store("keys").get(key));
  if (!row) throw new KeysBroken(`no key ${key.slice(0, 8)} on this phone`);
  return row;
}

function putKey(row) {
  return transact(["keys"], "readwrite", (store) => store("keys").put(row));
}
