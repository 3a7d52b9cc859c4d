// When a running clock's end is to be expected, at this gang's own pace. What is left
// to record times the time a line takes: this joint's own mean once two lines of the
// step are there, before that the gang's own from finished joints, and before there are
// any the plan's typical time.

import { own } from "./own.js";
import { stepState } from "./steps.js";

/** Give the time still needed to a clock's milestone, ms; undefined without a pace. */
export function remainingMs(scene, clock) {
  if (!scene.view.sheet.milestones.has(clock.until)) return undefined;
  return remaining(scene, clock).reduce((total, [step, missing]) =>
    total + missing * lineMs(scene, step), 0);
}

/** Say whether that time rests on the plan's typical one: nobody's own pace. */
export function guessed(scene, clock) {
  return scene.view.sheet.milestones.has(clock.until)
    && remaining(scene, clock).some(([step]) => measuredMs(scene, step) === undefined);
}

/**
 * Give the part of that time that somebody's own pace says, ms: it needs at least.
 * Where it alone takes too long, nothing is left to guess.
 */
export function sureMs(scene, clock) {
  if (!scene.view.sheet.milestones.has(clock.until)) return 0;
  return remaining(scene, clock).reduce((total, [step, missing]) =>
    total + missing * (measuredMs(scene, step) ?? 0), 0);
}

// The steps up to a clock's milestone that take time, each with its lines missing.
function remaining(scene, clock) {
  const { sheet } = scene.view;
  const first = sheet.flow.get(clock.start);
  const last = sheet.flow.get(sheet.milestones.get(clock.until).step);
  const found = [];
  for (const step of sheet.steps.values()) {
    const place = sheet.flow.get(step.id);
    if (place < first || place > last) continue;
    const { status, missing } = stepState(scene, step);
    if (status !== "off" && missing && step.raw.typical_ms !== undefined) {
      found.push([step, missing]);
    }
  }
  return found;
}

/** Give the time one line of a step takes, ms: this joint's mean, or typical. */
export function lineMs(scene, step) {
  return measuredMs(scene, step) ?? step.raw.typical_ms;
}

function measuredMs(scene, step) {
  const times = [...scene.lines(step.id).values()]
    .map((line) => scene.view.moment(line).at);
  const span = Math.max(...times) - Math.min(...times);
  if (times.length >= 2 && span > 0) return Math.floor(span / (times.length - 1));
  const { sheet, standing } = scene.view;
  return own(own(standing.pace, sheet.raw.kind), step.id) || undefined;
}
