// The words of refusals, flags and verdicts: one file for phone, desk and paper.

import { mapOf } from "./own.js";

let words = new Map();

/** Take the words once, before anything is said. @param {object} data words.json */
export function useWords(data) {
  words = mapOf(data);
}

/**
 * Put a code and its facts into words; an unknown code is shown as it is.
 * @param {string} code @param {Record<string, string|number>} facts @returns {string}
 */
export function say(code, facts) {
  let text = words.get(code)?.text ?? code;
  for (const [name, value] of Object.entries(facts)) {
    text = text.replaceAll(`{${name}}`, () => String(value));
  }
  return text;
}
