// A line that is past its own time and neither used nor decided, as a kit not on the
// face or a batch not in the duct: what to do, and the key that leads to discarding it.
// It stands above the keys of what is next and takes none away: it may have been used
// in time and not be written down yet.

import { clockText } from "../device/clock.js";
import { isTold } from "./copying.js";
import { timeDecided } from "./decided.js";
import { words } from "./later.js";
import { minutesInHand } from "./minutes.js";
import { model } from "./model.js";
import { button } from "./parts.js";
import { lineLabel } from "./speak.js";

/** @returns {string} what to do with a line past its time, in few words */
export const toDiscard = () => words.alarm.discard;

/** @returns {HTMLElement|null} to the discarding of the line first past its time */
export function oldKey(open, go, now) {
  const { sheet, subject } = open;
  const [first] = minutesInHand(open, now).lines
    .filter(({ deadline, line, step }) => line && deadline?.at <= now
      && isTold(open, { step, line, at: deadline.at }, now)
      && !timeDecided(open, deadline, line))
    .sort((one, other) => one.deadline.at - other.deadline.at);
  if (!first || !model.shift) return null;
  const { deadline, line, step } = first;
  return button("plain.red", {
    mark: "cross", id: "too-old", "data-line": line,
    label: `${words.line.discard}: ${lineLabel(sheet, step, line)}`,
    note: words.alarm.past(`${deadline.title} ${clockText(deadline.at)}`),
    onclick: () => go(`/line/${subject}/${step}/${line}/discard`),
  });
}
