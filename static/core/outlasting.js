// What outlasts an attempt: adhesive sets on, whatever was decided about the joint. For
// judging, the clocks of an attempt end with the disposition that opened the next. A
// deadline that raises nothing (part clean by) is judged nowhere: it says what can
// still be done, and it holds until what every further attempt begins with (parted and
// cleaned) is recorded, or the same clock begins anew.

import { boundMs } from "./clocks.js";
import { clockLines, deadlineMs, ratiosOf, runClock } from "./lives.js";
import { stepState } from "./steps.js";

/**
 * Give the deadlines that outlast their attempts, newest attempt first.
 * @returns {{clock:string, line:string, start:number, deadlines:object,
 *   left:object}[]} deadlines in ms UTC and what is left to them in ms
 */
export function outlasting(scene) {
  const found = [];
  let later = scene;
  for (let count = scene.view.attempts().length - 1; count > 0; count -= 1) {
    if (begunWith(later)) break;
    const ended = scene.case.earlier(scene, count);
    for (const clock of scene.view.sheet.clocks.values()) {
      const told = ratiosOf(ended, clock).filter((each) => !each.raises);
      if (told.length === 0 || later.lines(clock.start).size > 0) continue;
      found.push(...ofClock(ended, clock, told, scene));
    }
    later = ended;
  }
  return found;
}

// Whether an attempt is past what every further one begins with.
function begunWith(scene) {
  return [...scene.view.sheet.steps.values()].some((step) =>
    step.again && stepState(scene, step).status === "done");
}

// An ended attempt's clock runs on to now: it stops for nobody's decision.
function* ofClock(ended, clock, told, scene) {
  for (const line of clockLines(ended, clock)) {
    const run = runClock(ended, clock, line, scene.at);
    if (!run) continue;
    const start = boundMs(run.moment, 0);
    const ends = told.map((each) => [each.id, deadlineMs(run, each)]);
    yield {
      clock: clock.id,
      line,
      start,
      deadlines: Object.fromEntries(ends.map(([id, end]) => [id, start + end])),
      left: Object.fromEntries(ends.map(([id, end]) => [id, end - run.runMs])),
    };
  }
}
