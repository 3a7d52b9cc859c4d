// A batch thrown away before it came to what its clock limits, or taken off again.

import { lineState } from "./steps.js";

/**
 * Say whether a clock's own batch was discarded and never came to what ends it: a spare
 * kit that nobody needed was never on the face too late.
 */
export function thrownAway(scene, clock, line) {
  const { sheet } = scene.view;
  return Boolean(clock.per_line) && sheet.amended >= 2
    && sheet.steps.has(clock.until)
    && Boolean(scene.lines(clock.start).get(line)?.discarded)
    && !scene.lines(clock.until).has(line);
}

/**
 * Give when all was off again whose life a clock runs: who took it off had seen all of
 * it. What they did not know of may be on still.
 */
export function takenOff(scene, { start, per_line: perLine }, line) {
  const { history, sheet } = scene.view;
  const began = [...scene.lines(start).values()].filter((each) =>
    !each.discarded && (!perLine || each.id === line));
  const off = [...sheet.steps.values()].filter((step) => step.takesOff.includes(start))
    .flatMap((step) => [...scene.lines(step.id).values()].filter((each) =>
      lineState(scene, step, each).status === "ok"
      && began.every(({ root }) => history.saw(each.root, root))))
    .sort((one, other) => one.root - other.root);
  return began.length > 0 && off.length > 0 ? scene.view.moment(off[0]) : undefined;
}
