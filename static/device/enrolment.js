// Taking a person onto this phone by a code from the office. The key is kept and
// proven before the code is spent, so that a lost answer or a killed browser never
// leaves a person whose key nobody has.

import { sha256Hex, fromBase64url, toBase64url, randomBytes } from "./bytes.js";
import { getMeta, putMeta } from "./database.js";
import { signersOf } from "./early.js";
import { enrolledHere } from "./enrolled.js";
import { keepKey, listKeys, makeKey, nameKey, sign, unlock } from "./keys.js";
import { codeOf, enrol } from "./office.js";

/** The letters of a code; those read as others are none of them. */
const CODE = /^[2-9A-HJKMNP-TV-Z]{8}$/;

/** @returns {boolean} whether a typed code has the form of one */
export function isCode(typed) {
  return CODE.test(typed.toUpperCase().replaceAll(/[^A-Z\d]/g, ""));
}

/**
 * Ask the office whose a code is before a PIN is chosen. One begun here before may be
 * spent already, its answer lost: it is not asked for.
 * @returns {Promise<{name?:string, records?:boolean}>}
 */
export async function lookAtCode(code) {
  const begun = (await listKeys()).some((row) => row.code === code);
  return begun ? {} : codeOf(code);
}

/**
 * Enrol one more person.
 * @param {string} code as the office gave it @param {string} pin
 * @param {string} shell version of this shell, named in every entry
 * @returns {Promise<object>} the person's signer, unlocked
 */
export async function enrolPerson(code, pin, shell) {
  const identity = await getMeta("identity");
  const device = identity?.device ?? (await newDevice());
  const row = await pendingKey(code, pin);
  const signer = await unlock(row.key, pin);
  const proof = await sign(
    signer.privateKey, `enrol:${code}:${device}:${row.public}`);
  const answer = await enrol(
    { code, device, public: row.public, proof }, identity?.token);
  await keepIdentity(identity, answer, device, shell);
  await nameKey(row.key, { person: answer.person, name: answer.name, code: undefined });
  return { ...signer, person: answer.person };
}

/** @returns {Promise<object[]>} key rows of people who may no longer sign here */
export async function endedHere() {
  const keys = await listKeys();
  const may = new Set(signersOf(keys).map((row) => row.person));
  const ended = keys.filter((row) => row.ended && !may.has(row.person));
  return [...new Map(ended.map((row) => [row.person, row])).values()];
}

// The same code tried again (no answer came) takes the key made for it before.
async function pendingKey(code, pin) {
  const kept = (await listKeys()).find((row) => row.code === code && !row.person);
  if (kept) return kept;
  const row = { ...(await makeKey(pin)), code };
  await keepKey(row, pin);
  return row;
}

/** @returns {Promise<string>} this phone's id, drawn once */
export async function newDevice() {
  const kept = await getMeta("device");
  if (kept) return kept;
  const device = `phone-${toBase64url(randomBytes(9)).replaceAll(/[-_]/g, "x")}`;
  await putMeta("device", device);
  return device;
}

async function keepIdentity(before, answer, device, shell) {
  const officeKey = await sha256Hex(fromBase64url(answer.office_key));
  // Only a code shown by another phone said which site it is: the office knows better.
  const sure = before?.token || (await enrolledHere()).length > 0;
  if (sure && before && before.officeKey !== officeKey) {
    throw new Error("another office answered: this phone belongs to one site");
  }
  await putMeta("identity", {
    device,
    site: answer.site,
    token: answer.token ?? before?.token,
    officeKey,
    officePublic: answer.office_key,
    shell,
  });
}
