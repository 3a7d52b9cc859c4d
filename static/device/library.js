// What the office sent to work by: the site's picture, sheets and tables, each kept
// as the bytes that were hashed. A sheet counts only if an entry signed by the site's
// key issued it.

import { roster } from "../core/roster.js";
import { siteEntries } from "./book.js";
import { sha256Hex } from "./bytes.js";
import { getMeta, transact } from "./database.js";
import { readDocument, bundle } from "./office.js";

const issuedBy = new WeakMap();

/** A document whose bytes are not the ones its hash names. */
export class WrongDocument extends Error {}

/** @returns {Promise<object|undefined>} what the office told: site, register, pace */
export async function siteBundle() {
  const text = await get("bundle");
  return text && JSON.parse(text);
}

/** @returns {Promise<Map<string, string[]>>} subject -> issued hashes, newest last */
export async function issuedSheets() {
  const entries = await siteEntries();
  if (!issuedBy.has(entries)) {
    const identity = await getMeta("identity");
    if (!identity) return new Map();
    issuedBy.set(entries, issuedOf(entries, identity.officeKey));
  }
  return issuedBy.get(entries);
}

function issuedOf(entries, officeKey) {
  const issued = new Map();
  for (const entry of entries) {
    if (entry.kind !== "sheet_issued" || entry.key !== officeKey) continue;
    const { subject, sheet } = entry.about;
    const others = (issued.get(subject) ?? []).filter((hash) => hash !== sheet);
    issued.set(subject, [...others, sheet]);
  }
  return issued;
}

/** @returns {Promise<object>} people by id, as the site's key enrolled them */
export async function people() {
  const identity = await getMeta("identity");
  return identity ? roster(await siteEntries(), identity.officeKey) : {};
}

/**
 * Bring a subject's sheet in force, its tables and the sheets before it.
 * @returns {Promise<{hash:string, sheet:object, tables:object, older:Array}|null>}
 *   older: pairs of hash and sheet; null while any part of it has not arrived
 */
export async function sheetOf(subject) {
  const hashes = (await issuedSheets()).get(subject);
  if (!hashes) return null;
  const texts = await getAll(hashes.map((hash) => `sheet:${hash}`));
  const here = texts.map((text) => text && JSON.parse(text));
  const sheet = here.at(-1);
  if (!sheet) return null;
  const wanted = [...new Set(here.filter(Boolean)
    .flatMap((one) => Object.values(one.tables ?? {})))];
  const bodies = await getAll(wanted.map((hash) => `table:${hash}`));
  if (bodies.includes(undefined)) return null;
  const tables = {};
  wanted.forEach((hash, place) => { tables[hash] = JSON.parse(bodies[place]); });
  const older = here.slice(0, -1).map((one, place) => [hashes[place], one])
    .filter(([, one]) => one);
  return { hash: hashes.at(-1), sheet, tables, older };
}

/** @returns {Promise<object|undefined>} the plan that waits, with its own hash */
export async function waitingPlan() {
  const hash = (await siteBundle())?.plan;
  const text = hash && await get(`plan:${hash}`);
  return text ? { ...JSON.parse(text), hash } : undefined;
}

/** Fetch the picture and whatever issued sheet or table is not here yet. */
export async function refreshLibrary(token) {
  const issued = await issuedSheets();
  for (const hash of [...issued.values()].flat()) {
    const sheet = JSON.parse(await ensure(token, "sheet", hash));
    for (const table of Object.values(sheet.tables ?? {})) {
      await ensure(token, "table", table);
    }
  }
  const told = await bundle(token);
  if (told.plan) await ensure(token, "plan", told.plan);
  await put("bundle", JSON.stringify(told));
}

/** Keep a text of the office's beside the library (receipts). */
export function keepPaper(name, text) {
  return put(name, text);
}

async function ensure(token, kind, hash) {
  const kept = await get(`${kind}:${hash}`);
  if (kept) return kept;
  const text = await readDocument(token, kind, hash);
  if ((await sha256Hex(text)) !== hash) {
    throw new WrongDocument(`${kind} ${hash.slice(0, 12)}: other bytes came`);
  }
  await put(`${kind}:${hash}`, text);
  return text;
}

function get(name) {
  return transact(["library"], "readonly", (store) => store("library").get(name));
}

function getAll(names) {
  return transact(["library"], "readonly", (store) =>
    names.map((name) => store("library").get(name)));
}

function put(name, text) {
  return transact(["library"], "readwrite", (store) =>
    store("library").put(text, name));
}
