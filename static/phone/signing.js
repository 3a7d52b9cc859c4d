// What a key signs by itself: once, however often a gloved thumb taps it, and said
// where it leads; and what comes under that thumb takes no second tap.

import { model, saveOrTell } from "./model.js";
import { saidSaved } from "./notice.js";
import { DOUBLE_TAP_MS } from "./parts.js";
import { words } from "./later.js";

const underway = new Set();
let held;

/**
 * Sign and save as `saveOrTell` does, but not what is being signed already.
 * @returns {Promise<object|null>} the saved entry, or null
 */
export async function signOnce(draft, signer, saving = undefined) {
  const said = JSON.stringify(draft);
  if (underway.has(said)) return null;
  underway.add(said);
  try {
    return await saveOrTell(draft, signer, saving);
  } finally {
    underway.delete(said);
    holdScreen();
  }
}

/**
 * An entry each, signed one after the other, and said once; one that is not kept ends
 * it. @param {object[]} drafts @param {object} signer @param {...string} what they are
 * about, in words @returns {Promise<object|null>} the last entry, or null
 */
export async function signAndSay(drafts, signer, ...what) {
  const before = model.open.state;
  let entry = null;
  for (const draft of drafts) {
    entry = await signOnce(draft, signer);
    if (!entry) return null;
  }
  saidSaved(entry, [...what, words.entry[entry.kind]].filter(Boolean).join(" \u00b7 "),
    before);
  return entry;
}

/** Let the keys that come now take no tap for a moment; STOP and its card take any. */
export function holdScreen() {
  clearTimeout(held);
  document.body.dataset.still = "";
  held = setTimeout(() => { delete document.body.dataset.still; }, DOUBLE_TAP_MS);
}
