// Minutes in hand before there is a clock: what it would leave if its first line were
// recorded now. Once a kit is mixed nobody can wait any more, so that a race which
// cannot be won must be seen before it. It is a thought: nothing is signed or kept.

import { fold } from "../core/fold.js";
import { moment } from "../device/clock.js";
import { minutesInHand, nextLine } from "./minutes.js";

const NOBODY = "thought";
/** The id of an entry that is not one: no hash of anything. */
const NO_ID = "0".repeat(64);

/**
 * @param {object} open the open subject with its scene @param {object} clock of the
 *   sheet, not begun @param {object} [now] as a fold takes it
 * @returns {object|undefined} minutes in hand, as `minutesInHand` gives them
 */
export function ifBegunNow(open, clock, now = moment()) {
  const { prepared, entries, scene, state, sheet } = open;
  const line = nextLine(sheet, state, clock.start);
  if (line === null) return undefined;
  const thought = {
    id: NO_ID, kind: "done", subject: open.subject, sheet: open.hash,
    step: clock.start, line, values: {}, about: {}, photos: [], needs: [],
    attempt: state.attempt, after: state.heads, person: NOBODY, device: NOBODY,
    key: NO_ID, seq: 1, at: now.at, made: now.at, session: now.session,
    mono: now.mono, offset: now.offset,
  };
  const found = fold(prepared, [...entries, thought], scene.view.standing, now);
  const minutes = minutesInHand({ sheet, state: found, asOf: now.at }, now.at);
  return minutes.running ? minutes : undefined;
}
