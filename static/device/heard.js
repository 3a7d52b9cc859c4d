// When the office was last heard, and whether it has ended this phone (reported lost):
// both outlive the browser, so that a cold phone says them from the first screen on,
// without a network.

import { putMeta, transact } from "./database.js";

const MINUTE_MS = 60_000;
let kept = 0;

/**
 * Keep that the office was heard at a time, ms UTC; not at every single answer, but in
 * every minute: a phone started anew says the same hour as before.
 * @returns {Promise<number>} the time
 */
export async function noteHeard(at) {
  if (minuteOf(at) !== minuteOf(kept)) {
    kept = at;
    await putMeta("heard", at);
  }
  return at;
}

const minuteOf = (ms) => Math.floor(ms / MINUTE_MS);

/** Keep what the office said last. @param {object} identity as it was asked with */
export async function noteEnded(identity, ended) {
  if (Boolean(identity.ended) === ended) return;
  await transact(["meta"], "readwrite", (store, then) => {
    // Read anew: another shell or token may have been noted meanwhile.
    then(store("meta").get("identity"), (kept) => {
      if (!kept || kept.token !== identity.token) return;
      const { ended: before, ...others } = kept;
      store("meta").put(ended ? { ...others, ended } : others, "identity");
    });
  });
}
