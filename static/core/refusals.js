// A rule's no: a value with a code of `words.json` and the facts its words need.

/** @typedef {{code:string, facts:Record<string, string|number>}} Refusal */

/** Give a rule's no. @returns {Refusal} */
export function refusal(code, facts = {}) {
  return { code, facts };
}
