// What is asked of a figure that passes and may be a slip all the same. It holds up
// nothing.

import { clockText, wallMs } from "../device/clock.js";
import { words } from "./later.js";
import { quantityText } from "./numbers.js";
import { knownBefore, swappedOf } from "./swaps.js";

/** Whether digits were swapped in what was typed here, by what was read of the same
 * shortly before; a correction says that this was wrong. @returns {string[]} */
export function doubtsOf({ open, step, line, mode, entries }) {
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
