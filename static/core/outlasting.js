// What outlasts an attempt: adhesive sets on, whatever was decided about the joint. For
// judging, the clocks of an attempt end with the disposition that opened the next. A
// deadline that raises nothing (part clean by) is judged nowhere: it says what can
// still be done, and it holds until what every further attempt begins with (parted and
// cleaned) is recorded. More adhesive put on what is still there makes nothing of it
// later.

import { boundMs } from "./clocks.js";
import { clockLines, deadlineMs, ratiosOf, runClock } from "./lives.js";
import { stepState } from "./steps.js";

/**
 * Give the deadlines that outlast their attempts, newest attempt first.
 * @returns {{clock:string, line:string, attempt?:string, start:number,
 *   deadlines:object, left:object}[]} deadlines in ms UTC and what is left to them in
 *   ms; the first attempt has no id
 */
export function outlasting(scene) {
  const found = [];
  let later = scene;
  for (let count = scene.view.attempts().length - 1; count > 0; count -= 1) {
    if (begunWith(later)) break;
    const ended = scene.case.earlier(scene, count);
    for (const clock of scene.view.sheet.clocks.values()) {
      const told = ratiosOf(ended, clock).filter((each) => !each.raises);
      if (told.length === 0 || takenOver(later, ended, clock.start)) continue;
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

// Whether the later attempt goes on with what began the clock. Sheets from before this
// was amended let it end where the clock was begun anew.
function takenOver(later, ended, start) {
  if (later.view.sheet.amended < 2) return later.lines(start).size > 0;
  return later.view.attemptOf(start) === ended.view.attemptOf(start);
}

// An ended attempt's clock runs on to now: it stops for nobody's decision.
function* ofClock(ended, clock, told, scene) {
  const [attempt] = ended.view.attempts().at(-1);
  for (const line of clockLines(ended, clock)) {
    const run = runClock(ended, clock, line, scene.at);
    if (!run) continue;
    const start = boundMs(run.moment, 0);
    const ends = told.map((each) => [each.id, deadlineMs(run, each)]);
    yield {
      clock: clock.id,
      line,
      ...(attempt === undefined ? {} : { attempt }),
      start,
      deadlines: Object.fromEntries(ends.map(([id, end]) => [id, start + end])),
      left: Object.fromEntries(ends.map(([id, end]) => [id, end - run.runMs])),
    };
  }
}
