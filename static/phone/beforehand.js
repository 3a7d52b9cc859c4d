// Minutes in hand before there is a clock: what it would leave if its first line were
// recorded now. Once a kit is mixed nobody can wait any more, so that a race which
// cannot be won must be seen before it. It is a thought: nothing is signed or kept.

import { moment } from "../device/clock.js";
import { minutesInHand } from "./minutes.js";
import { fill, h } from "./parts.js";
import { clockToBegin, hand, handText, SHORT_MS, time } from "./strip.js";
import { nextLine } from "./turns.js";
import { thoughtOf } from "./thought.js";
import { words } from "./words.js";

const text = words.minutes;

/** What the clock would leave if it were begun now; as old as the state it stands
 * with. @returns {object|undefined} what was told in its place */
export function thinkAhead(open, place) {
  const clock = clockToBegin(open);
  // Before a face was read there is nothing to think with.
  const read = clock?.temps.some(({ step }) =>
    Object.keys(open.state.steps[step]?.lines ?? {}).length > 0);
  const found = open.scene && read ? ifBegunNow(open, clock) : undefined;
  if (found?.inHandMs === undefined) return undefined;
  if (found.inHandMs < SHORT_MS) sayShort(place, found, clock);
  fill(place, hand(found.inHandMs, {},
    `${text.begunNow}: ${handText(found.inHandMs)}`, found.guessed),
  h("ul.times", {}, time("wait", `${found.untilTitle} ${text.expected}`,
    found.expected), time("clock", found.chalk.title, found.chalk.at)));
  return found;
}

/** The same for who opens the gate the clock stands behind: in one line, as the hours
 * are on the joint. @returns {HTMLElement|null} */
export function begunNow(open, id) {
  const clock = clockToBegin(open);
  if (!clock || !open.sheet.points[id].shuts?.includes(clock.start)) return null;
  const place = h("div", { id: "begun-now" });
  thinkAhead(open, place);
  place.querySelector(".times")?.remove();
  return place;
}

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
