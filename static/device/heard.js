// When the office was last heard: it outlives the browser, so that whoever takes up a
// cold phone is told since when it knows nothing new.

import { putMeta } from "./database.js";

const EVERY_MS = 60_000;
let kept = 0;

/**
 * Keep that the office was heard at a time, ms UTC; not at every single answer.
 * @returns {Promise<number>} the time
 */
export async function noteHeard(at) {
  if (Math.abs(at - kept) >= EVERY_MS) {
    kept = at;
    await putMeta("heard", at);
  }
  return at;
}
