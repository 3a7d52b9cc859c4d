// What is asked of a figure that passes and may be a slip all the same, and said of an
// hour that was taken for another day's. It holds up nothing.

import { clockText, dayClockText, wallMs } from "../device/clock.js";
import { words } from "./later.js";
import { quantityText } from "./numbers.js";
import { becameYesterday, knownBefore, swappedOf } from "./swaps.js";

/** @returns {string[]} what is asked of a form's answers, and what day an hour is of */
export function doubtsOf(form) {
  return [...hourDoubts(form), ...digitDoubts(form)];
}

/** @returns {string[]} that an hour later than now is taken as yesterday's */
export function hourDoubts({ entries }) {
  const when = entries.find((entry) => entry.when);
  return when && becameYesterday(when, wallMs())
    ? [words.means.yesterday(dayClockText(when.value))] : [];
}

// Whether digits were swapped in what was typed here, by what was read of the same
// shortly before; a correction says that this was wrong.
function digitDoubts({ open, step, line, mode, entries }) {
  if (mode === "correct") return [];
  const now = entries.find(({ when }) => when)?.value ?? wallMs();
  return entries.flatMap(({ field, text, value, span }) => {
    if (field?.kind !== "number" || !text || value === undefined) return [];
    const known = knownBefore(open, step, line, field, now);
    const one = swappedOf(value, known, span, field);
    const said = (figure) => quantityText(figure, field.unit, field.places);
    return one ? [words.means.doubt(said(one.figure), said(one.value),
      clockText(one.at))] : [];
  });
}
