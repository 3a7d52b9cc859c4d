// The closed list of entry kinds, handed over once from `kinds.json`.

import { mapOf } from "./own.js";

let kinds = new Map();

/** Kinds that state what was read or done at a step. */
export const READINGS = new Set(["done", "copied", "anyway"]);

/** Dispositions, from the mildest to the strictest (words as ISO 9000 uses them). */
export const VERDICTS = ["use_as_is", "repair", "rework", "reject"];

/** Take the kinds once, before anything is read. @param {object} data kinds.json */
export function useKinds(data) {
  kinds = mapOf(data);
}

/** @param {string} name @returns {object|undefined} what the file says of a kind */
export function kindNamed(name) {
  return kinds.get(name);
}

/** @param {string} kind @returns {boolean} whether it counts only by PIN */
export function needsPin(kind) {
  return Boolean(kinds.get(kind)?.pin);
}
