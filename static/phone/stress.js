// The stresses and forces of a joint's picture in words, as the desk and the paper have
// them: each stress in the places and rounded to the side the sheet shows it in, and of
// the forces what they are less than was read at the jack.

import { computedText, quantityText } from "./numbers.js";
import { words } from "./later.js";

const [STRESS_PLACES, FORCE_PLACES] = [4, 1];
/** The number of a line that the binding of the lock-off takes from the force read. */
const SEATING = "seating";

/** A mean or least stress: what must not be too little is rounded down. */
export function stressText(sheet, drawn, name, value) {
  return value === undefined ? "\u2014"
    : computedText(value, { ...shownAs(sheet, drawn, name), unit: "MPa" });
}

// What no step shows is told in as many places as the sheet's other stresses.
function shownAs({ steps, points }, { states }, name) {
  const parts = [...Object.values(steps).flatMap(({ shows = [] }) => shows),
    ...Object.values(points).flatMap(({ requires = [] }) => requires)
      .map(({ show }) => show).filter(Boolean)];
  const drawn = new Set(states.flatMap(Object.values));
  const { shown } = parts.find(({ value }) => drawn.has(value)) ?? {};
  return parts.find(({ value }) => value === name)
    ?? { places: STRESS_PLACES, round: "down", shown };
}

/** What stands at the bars: the force last read, or less what seating takes.
 * @returns {string} "" where the sheet's rules are not here yet */
export function countedText({ values, steps }, { bars }) {
  if (!values) return "";
  const losses = bars.flatMap(({ force }) => [...lastRead(values[force])])
    .filter(({ value }) => isLess(values[value] ?? value))
    .flatMap(({ step }) => (steps[step].lines ?? []).map(({ numbers }) =>
      numbers?.[SEATING])).filter((loss) => loss !== undefined);
  if (losses.length === 0) return words.lost.counted;
  const [low, high] = [Math.min(...losses), Math.max(...losses)]
    .map((loss) => quantityText(loss, "", FORCE_PLACES));
  const span = low === high ? low : words.limits.within(low, high);
  return words.lost.countedLess(`${span}\u00a0kN`);
}

// Each last reading that a value rests on.
function* lastRead(said) {
  if (said === null || typeof said !== "object") return;
  if (said.word === "reduce" && said.how === "last") yield said;
  for (const inner of Object.values(said)) yield* lastRead(inner);
}

function isLess({ terms = [] }) {
  return terms.some(([factor, part]) => factor === -1 && part?.word === "constant"
    && part.name === SEATING);
}
