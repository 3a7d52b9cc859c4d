// Nonconformances of a subject: raised by hand, or derived from what was recorded.
// Derived ones come from readings, from acts a gate forbade, and from clocks. A reading
// retaken in time by its author leaves none; after that a correction cannot launder a
// failure: the old reading is still judged, and only a disposition clears it.

import { elapsedMs } from "./clocks.js";
import {
  clockFaultId, computedId, disposal, GATE, readingFaultId, stepFaultId,
} from "./dispositions.js";
import { failuresGone, gone, superseded } from "./earlier.js";
import { CORRECTED, namedTwice, reliedOnCorrected, TWICE } from "./items.js";
import { clockLines, clockRuns, kept, ratiosOf } from "./lives.js";
import { shutting } from "./shutting.js";
import { onPoint, signedInTime } from "./signers.js";
import { fails, lineRaises, lineState, unsettled } from "./steps.js";
import { thrownAway } from "./unused.js";

/** The code of a spoken release that was not signed in time. */
export const UNSIGNED = "spoken_unsigned";

/**
 * What raised a nonconformance, where, which gates it shuts as things stand.
 * @typedef {{id:string, code:string, derived:boolean, step?:string, line:string,
 *   place?:number, check?:string, disposal:object, shuts:string[]}} Fault
 */

/** @returns {Fault[]} those of the current attempt's work, sorted by id */
export function nonconformances(scene) {
  return scene.once("faults", [], () => {
    const found = new Map();
    for (const each of every(scene)) found.set(each.id, shutting(scene, each));
    return [...found.keys()].sort().map((id) => found.get(id));
  });
}

function* every(scene) {
  for (const step of scene.view.sheet.steps.values()) yield* ofStep(scene, step);
  yield* ofCertificates(scene);
  yield* ofClocks(scene);
  yield* unsigned(scene);
  yield* byHand(scene);
}

function* ofStep(scene, step) {
  const read = scene.lines(step.id);
  if (read.size === 0) return;
  const watched = step.judged || scene.view.history.watches(step.id);
  for (const line of unsettled(scene, step, read)) {
    if (watched) yield* ofGate(scene, step, line, line.asserted);
    yield* ofCurrent(scene, step, line);
    if (line.asserted.length > 1) {
      yield* ofFailures(scene, step, line, superseded(scene, step, line));
    }
    yield* ofGone(scene, step, line);
  }
  for (const check of step.stepChecks) {
    const failed = check.raises !== "caution" && fails(scene, check, "");
    if (failed && raises(scene, check, read)) {
      yield checkFault(scene, step, check.id, stepFaultId(scene, step.id, check.id));
    }
  }
  yield* ofTwice(scene, step);
}

// One for each item at two places: in the race, and where it is built on.
function* ofTwice(scene, step) {
  const { history, mask } = scene.view;
  for (const { item, field, lines, places, check } of namedTwice(scene, step)) {
    if (step.raced || places.some((place) => history.locked(place, mask))) {
      const id = stepFaultId(scene, step.id, check);
      const found = checkFault(scene, step, `${TWICE}:${field}`, id);
      yield { ...found, place: Math.max(...places), item, lines };
    }
  }
}

function* ofGate(scene, step, line, places) {
  for (const root of places) {
    const entry = scene.view.history.entry(root);
    if (entry.kind === "correction") continue;
    if (scene.case.forbidden(step, root).length === 0) continue;
    yield fault(scene, {
      id: readingFaultId(GATE, entry.id),
      code: "gate_shut",
      step: step.id,
      line: line.id,
      place: root,
      check: GATE,
      blocks: scene.view.sheet.nextGate(step.id),
    });
  }
}

function* ofCurrent(scene, step, line) {
  if (line.disputed || line.discarded) return;
  const { failed } = lineState(scene, step, line);
  if (failed.length === 0) return;
  const { history, mask } = scene.view;
  const locked = !step.series && history.locked(line.current, mask);
  const entryId = history.entry(line.current).id;
  for (const check of failed) {
    if (locked || lineRaises(scene, step, line, check) === "nonconformance") {
      const id = readingFaultId(check, entryId);
      yield checkFault(scene, step, check, id, line.id, line.current);
    }
  }
}

function* ofFailures(scene, step, line, found) {
  for (const [check, place] of found) {
    const id = readingFaultId(check, scene.view.history.entry(place).id);
    yield checkFault(scene, step, check, id, line.id, place);
  }
}

// What a line had raised that was discarded since.
function* ofGone(scene, step, line) {
  const found = gone(scene, step, line);
  if (!found) return;
  yield* ofFailures(scene, step, line, failuresGone(scene, step, found));
  yield* ofGate(scene, step, line, found.line.asserted);
}

function raises(scene, check, read) {
  if (check.raises === "nonconformance") return true;
  const { history, mask } = scene.view;
  return [...read.values()].some((line) => history.locked(line.current, mask));
}

// A failure is named by its check, or as `code:field` where an item is unfit.
function checkFault(scene, step, check, id, line = "", place = undefined) {
  const [code, field] = check.split(":");
  const named = step.checks.find((each) => each.id === check)?.blocks ?? [];
  return fault(scene, {
    id,
    code: field ? code : "check_failed",
    step: step.id,
    line,
    place,
    check: field || check,
    blocks: blocksOf(scene, named, step.id),
  });
}

// One for each certificate corrected since, however many lines relied on it. It shuts
// the next gate of each step that did; those passed stay passed.
function* ofCertificates(scene) {
  const { sheet } = scene.view;
  for (const { item, older, step, field, line, steps } of reliedOnCorrected(scene)) {
    yield fault(scene, {
      id: computedId("item", sheet.subject, item, older),
      code: CORRECTED,
      step,
      line: line.id,
      place: line.root,
      check: field,
      blocks: [...new Set(steps.flatMap((each) => sheet.nextGate(each)))],
    });
  }
}

function* ofClocks(scene) {
  for (const [clockId, clock] of scene.view.sheet.clocks) {
    const watched = ratiosOf(scene, clock)
      .filter((each) => each.raises === "nonconformance");
    for (const line of watched.length > 0 ? clockLines(scene, clock) : []) {
      for (const run of clockRuns(scene, clock, line)) {
        for (const ratio of watched.filter((each) => !kept(run, each))) {
          const found = overFault(scene, clockId, line, run, ratio);
          const decided = found.disposal.place !== undefined;
          // What was decided of it stays.
          if (decided || !thrownAway(scene, clock, line)) yield found;
        }
      }
    }
  }
}

function overFault(scene, clockId, line, run, ratio) {
  const { start } = scene.view.sheet.clocks.get(clockId);
  const attempt = scene.view.attemptOf(start);
  return fault(scene, {
    id: clockFaultId(scene, attempt, `${clockId}/${line}`, ratio.id),
    code: "clock_over",
    step: start,
    line,
    place: run.start,
    check: ratio.id,
    running: !run.ended,
    blocks: blocksOf(scene, ratio.blocks ?? [], start),
  });
}

// A spoken release that was not signed by its giver in time.
function* unsigned(scene) {
  const { history, sheet } = scene.view;
  for (const point of sheet.points.values()) {
    const limit = point.raw.spoken_ms ?? 0;
    for (const place of limit ? onPoint(scene, point, "spoken") : []) {
      const late = elapsedMs(history.moments[place], scene.at, true) > limit;
      if (!late || signedInTime(scene, point, place)) continue;
      yield fault(scene, {
        id: readingFaultId(UNSIGNED, history.entry(place).id),
        code: UNSIGNED,
        line: "",
        place,
        blocks: sheet.nextGate(point.id),
      });
    }
  }
}

function* byHand(scene) {
  const { view } = scene;
  const { sheet } = view;
  const gates = [...sheet.points.values()].filter((each) => each.raw.class === "hold");
  for (const place of view.among(view.history.byKind.get("nonconformance"))) {
    const entry = view.history.entry(place);
    const step = sheet.steps.has(entry.about.step) ? entry.about.step : undefined;
    if (!attemptsMeant(view, step).includes(entry.attempt)) continue;
    yield fault(scene, {
      id: entry.id,
      code: "by_hand",
      derived: false,
      step,
      line: "",
      place,
      blocks: step ? sheet.nextGate(step) : gates.map((each) => each.id),
    });
  }
}

// The attempts of which what is reported by hand still counts: rework redoes steps, and
// decides nothing of what was reported of none of them.
function attemptsMeant(view, step) {
  return step === undefined && view.sheet.amended >= 2
    ? view.attempts().map(([attempt]) => attempt)
    : [view.attemptOf(step ?? view.sheet.raw.flow.at(-1))];
}

function blocksOf(scene, named, step) {
  return named.length > 0 ? named : scene.view.sheet.nextGate(step);
}

function fault(scene, { blocks, ...parts }) {
  const decided = disposal(scene, parts.id);
  const shuts = decided.blocks ? blocks : [];
  return { derived: true, ...parts, disposal: decided, shuts };
}
