// Minutes in hand before there is a clock: what it would leave if its first line were
// recorded now. Once a kit is mixed nobody can wait any more, so that a race which
// cannot be won must be seen before it. It is a thought: nothing is signed or kept.

import { moment } from "../device/clock.js";
import { minutesInHand } from "./minutes.js";
import { nextLine } from "./turns.js";
import { thoughtOf } from "./thought.js";

/** Little is left; what is sure to end too late is no large key any more, and never
 * locked. Too late by nobody's own pace is a guess: it stays GO. */
export function sayShort(place, { inHandMs, guessed }, { start }) {
  const late = inHandMs < 0 && !guessed;
  place.dataset.short = late ? "late" : "yes";
  const key = late && document.querySelector(`#dock .main[data-step="${start}"]`);
  if (key) key.classList.add("late");
}

/**
 * @param {object} open the open subject with its scene @param {object} clock of the
 *   sheet, not begun @param {object} [now] as a fold takes it
 * @returns {object|undefined} minutes in hand, as `minutesInHand` gives them
 */
export function ifBegunNow(open, clock, now = moment()) {
  const { state, sheet } = open;
  const line = nextLine(sheet, state, clock.start);
  if (line === null || isHeld(open, clock)) return undefined;
  const thought = thoughtOf(open, { kind: "done", step: clock.start, line }, now);
  const minutes = minutesInHand({ sheet, state: thought.state, asOf: now.at }, now.at);
  return minutes.running ? minutes : undefined;
}

// While only time opens its gate, nobody begins anything: what it would leave says
// nothing yet, and its hours are long past by then.
function isHeld({ sheet, state }, { start }) {
  const gates = Object.keys(sheet.points).filter((id) =>
    sheet.points[id].shuts?.includes(start)).map((id) => state.points[id]);
  return [state.steps[start], ...gates].some(({ refusals }) =>
    refusals?.some(({ code }) => /^hold_/.test(code)));
}
