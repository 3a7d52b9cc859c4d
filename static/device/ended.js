// Whether the office has ended this phone (reported lost): kept with its identity, so
// that it is said from the first screen on and without a network.

import { putMeta } from "./database.js";

/** Keep what the office said last. @param {object} identity as kept */
export async function noteEnded(identity, ended) {
  if (Boolean(identity.ended) === ended) return;
  const { ended: before, ...others } = identity;
  await putMeta("identity", ended ? { ...others, ended } : others);
}
