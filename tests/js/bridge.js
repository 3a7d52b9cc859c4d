/**
 * Answers calls from the Python tests, one JSON line each way.
 *
 * A line in is a list of calls [module path, export name, arguments]; the line out
 * is a list of answers of the same length. Only values that arrive unchanged may
 * cross: what JSON would silently alter is an error here, never a quiet null.
 */

import { writeSync } from "node:fs";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

// Standard output belongs to the answers.
globalThis.console = new console.Console(process.stderr);

const RESERVED = ["$bytes", "$int", "$undefined"];
const modules = new Map();

async function load(path) {
  if (!modules.has(path)) modules.set(path, await import(pathToFileURL(path)));
  return modules.get(path);
}

async function answer([path, name, args]) {
  try {
    const called = (await load(path))[name];
    if (typeof called !== "function") {
      throw new TypeError(`${path} exports no function ${name}`);
    }
    const value = called(...args);
    return { value: pack(typeof value?.then === "function" ? await value : value) };
  } catch (error) {
    return { error: describe(error) };
  }
}

function describe(error) {
  const name = error?.name ?? typeof error;
  const message = error?.message ?? String(error);
  return { name, message, code: error?.code ?? null, stack: error?.stack ?? "" };
}

function pack(value) {
  if (typeof value === "bigint") return { $int: String(value) };
  if (value === undefined) return { $undefined: true };
  if (value === null || typeof value !== "object") return packPlain(value);
  if (value instanceof Uint8Array) {
    return { $bytes: Buffer.from(value).toString("base64") };
  }
  if (Array.isArray(value)) return value.map(pack);
  const prototype = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) {
    throw new TypeError(`a ${value.constructor?.name} cannot cross to Python`);
  }
  return packObject(value);
}

function packPlain(value) {
  const crosses = ["string", "boolean"].includes(typeof value) || value === null;
  if (crosses || (Number.isFinite(value) && !Object.is(value, -0))) return value;
  throw new TypeError(`${String(value)} (${typeof value}) cannot cross to Python`);
}

// A missing key and an undefined one are the same thing on the wire: missing.
function packObject(value) {
  for (const word of RESERVED) {
    if (Object.hasOwn(value, word)) throw new TypeError(`${word} cannot cross`);
  }
  const kept = Object.entries(value).filter(([, item]) => item !== undefined);
  return Object.fromEntries(kept.map(([key, item]) => [key, pack(item)]));
}

function unpack(key, value) {
  if (value === null || typeof value !== "object") return value;
  if (Object.hasOwn(value, "$int")) return BigInt(value.$int);
  if (Object.hasOwn(value, "$undefined")) return undefined;
  if (Object.hasOwn(value, "$bytes")) {
    return new Uint8Array(Buffer.from(value.$bytes, "base64"));
  }
  return value;
}

// A pipe takes only part of a long line at a time.
function send(answers) {
  const bytes = Buffer.from(`${JSON.stringify(answers)}\n`);
  for (let sent = 0; sent < bytes.length; ) {
    try {
      sent += writeSync(1, bytes, sent);
    } catch (error) {
      if (error.code !== "EAGAIN") throw error;
    }
  }
}

send([{ value: process.version }]);
for await (const line of createInterface({ input: process.stdin })) {
  const answers = [];
  for (const call of JSON.parse(line, unpack)) answers.push(await answer(call));
  send(answers);
}
