// A subject as it would be with one more entry: folded by the same rules as what is
// kept. The entry is only thought of: nothing is signed or kept.

import { present, stateOf } from "../core/fold.js";
import { moment } from "../device/clock.js";

const NOBODY = "thought";
/** The id of an entry that is not one: no hash of anything. */
const NO_ID = "0".repeat(64);

/**
 * @param {object} open the open subject with its scene @param {object} draft what would
 *   be signed: kind, step, line, values, about, photos, person, device, `at`
 * @param {object} [now] as a fold takes it
 * @returns {{entry:object, entries:object[], scene:object, state:object}}
 */
export function thoughtOf(open, draft, now = moment()) {
  const { prepared, scene, state, subject, hash } = open;
  const { view } = scene;
  const entry = {
    id: NO_ID, subject, sheet: hash, line: "", values: {}, about: {}, photos: [],
    needs: [], attempt: draft.step ? view.attemptOf(draft.step) : state.attempt,
    after: state.heads, key: NO_ID, seq: 1,
    made: now.at, session: now.session, mono: now.mono, offset: now.offset,
    at_by: draft.at === undefined ? "tap" : "typed",
    ...draft, at: draft.at ?? now.at, person: draft.person ?? NOBODY,
    device: draft.device ?? NOBODY,
  };
  const entries = [...open.entries, entry];
  // By the same clock as the entry: by another, "now" may lie a moment before it, and
  // what it says would not have happened yet.
  const then = present(prepared, entries, view.standing,
    { ...now, device: entry.device });
  return { entry, entries, scene: then, state: stateOf(then) };
}

/** @returns {string[]} the points whose release would end by what is only thought of;
 *   what was done through one stays done, and there it ends nothing */
export function endedBy({ entry, state }) {
  return Object.keys(state.points).filter((id) =>
    state.points[id].lapsed_by === entry.id);
}
