// Whether the office has ended this phone (reported lost): kept with its identity, so
// that it is said from the first screen on and without a network.

import { transact } from "./database.js";

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
