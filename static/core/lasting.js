// What does not go back: a pot that was seen gelled is not soft again. A plan says it
// of an option (`stays`). A later reading that says otherwise clears nothing: the
// contradiction is told until the reading that was wrong is corrected, which undoes it
// only before anybody had relied on it.

import { own } from "./own.js";

/** The code of a reading that does not go back and was read otherwise since. */
export const BACK = "taken_back";

const NONE = Object.freeze([]);

/**
 * Give each field that was read back, with the place of what said it stays, and what.
 * @returns {[string, number, (number|string)][]}
 */
export function takenBack(scene, step, line) {
  if (line.asserted.length < 2 || line.disputed || line.discarded) return NONE;
  return saidToStay(scene, step, line).filter(([field, place, value]) =>
    place !== line.current && own(line.values, field) !== value);
}

/**
 * Give each field, place and value of a line's readings that does not go back.
 * @returns {[string, number, (number|string)][]}
 */
export function saidToStay(scene, step, line) {
  const lasting = lastingOf(step);
  if (lasting.length === 0) return NONE;
  const found = [];
  for (const place of line.asserted) {
    if (corrected(scene, line, place)) continue;
    const older = scene.view.lineAt(line, place).values;
    for (const [field, values] of lasting) {
      const value = own(older, field);
      if (values.includes(value)) found.push([field, place, value]);
    }
  }
  return found;
}

// By field the values that do not go back.
function lastingOf(step) {
  return (step.raw.fields ?? []).map(({ id, options = [] }) =>
    [id, options.filter((each) => each.stays).map(({ value }) => value)])
    .filter(([, values]) => values.length > 0);
}

// Whether a correction takes a reading back in time.
function corrected(scene, line, place) {
  const { history } = scene.view;
  const rootOf = (each) => history.rootOf.get(each) ?? each;
  return line.asserted.some((other) => history.entry(other).kind === "correction"
    && !history.added.has(other) && rootOf(other) === rootOf(place)
    && history.retakenInTime(place, other));
}
