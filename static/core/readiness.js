// What a point still rests on: steps, requirements, nonconformances, holds, others.

import { overAt } from "./bounds.js";
import { elapsedMs } from "./clocks.js";
import { openConditions } from "./conditions.js";
import { stepFaultId } from "./dispositions.js";
import { nonconformances } from "./faults.js";
import { unheard } from "./heard.js";
import { namedTwice, outUntimed, ranOut, TWICE } from "./items.js";
import { own } from "./own.js";
import { refusal } from "./refusals.js";
import { milestonesOf } from "./scene.js";
import { isOff, stepState } from "./steps.js";

/**
 * Give everything a point still rests on in a scene; empty when it may be released.
 * @param {object} scene @param {object} point
 * @param {string[]|undefined} needs the entries of other subjects a release
 *   named, or undefined when asking what holds now
 * @returns {import("./refusals.js").Refusal[]}
 */
export function unmet(scene, point, needs) {
  return [
    ...unmetSteps(scene, point),
    ...point.after.filter((name) => !reachedBy(scene, name))
      .map((name) => refusal("not_reached", { name })),
    ...point.requires.filter(({ must }) => must(scene, "") !== true)
      .map(({ id }) => refusal("requirement", { point: point.id, requirement: id })),
    ...nonconformances(scene).filter((fault) => fault.shuts.includes(point.id))
      .map((fault) => refusal("nonconformance", { id: fault.id })),
    ...openConditions(scene, point.id),
    ...waiting(scene, point.holds, scene.at),
    ...unmetSubjects(scene, point, needs),
    ...unheard(scene, point, needs),
    ...stopped(scene),
  ];
}

/** Say whether a name in a `needs` or `after` list is reached in a scene. */
export function reachedBy(scene, name) {
  return scene.case.reached(scene, kindOf(scene, name), name);
}

/** Say what a name in a `needs` or `after` list means. */
export function kindOf(scene, name) {
  const { sheet } = scene.view;
  if (sheet.steps.has(name)) return "step";
  return sheet.points.has(name) ? "point" : "milestone";
}

/** Give the newest STOP that no later made-safe has seen, or undefined. */
export function stopInForce(scene) {
  const { view } = scene;
  const { history } = view;
  const safe = view.among(history.byKind.get("made_safe"));
  return view.among(history.byKind.get("stopped"))
    .findLast((stop) => !safe.some((place) => history.saw(place, stop)));
}

function unmetSteps(scene, point) {
  const found = [];
  for (const name of point.covers) {
    const step = scene.view.sheet.steps.get(name);
    const { status } = stepState(scene, step);
    if (status !== "done" && status !== "off") {
      found.push(refusal(`step_${status}`, { step: name }), ...twice(scene, step));
    } else if (scene.view.sheet.amended && ranOut(scene, step)) {
      // Sheets from before this was amended asked only when it was read.
      found.push(refusal("item_ran_out", { step: name }));
    } else if (scene.view.sheet.amended && outUntimed(scene, step)) {
      found.push(refusal("item_out_untimed", { step: name }));
    }
  }
  return found;
}

// An item at two places is told here until it is told as a nonconformance.
function twice(scene, step) {
  const raised = nonconformances(scene).map(({ id }) => id);
  return namedTwice(scene, step)
    .filter(({ check }) => !raised.includes(stepFaultId(scene, step.id, check)))
    .map(({ item, lines }) =>
      refusal(TWICE, { step: step.id, item, lines: lines.join() }));
}

/** Give the times that must still pass at a moment before what they hold back. */
export function waiting(scene, holds, at) {
  const found = [];
  for (const hold of holds) {
    if (isOff(scene, scene.view.sheet.steps.get(hold.after))) continue;
    const began = scene.moment({ step: hold.after });
    if (began === undefined) {
      found.push(refusal("hold_not_begun", { hold: hold.id }));
    } else if (elapsedMs(began, at, false) < hold.ms) {
      const until = overAt(began, at, hold.ms);
      found.push(until === undefined ? refusal("hold_untimed", { hold: hold.id })
        : refusal("hold_running", { hold: hold.id, until }));
    }
  }
  return found;
}

function unmetSubjects(scene, point, needs) {
  const found = [];
  for (const { subject, milestone } of point.prerequisites) {
    const entryId = own(milestonesOf(scene.view.standing, subject), milestone);
    if (entryId === undefined || (needs && !needs.includes(entryId))) {
      found.push(refusal("other_subject", { subject, name: milestone }));
    }
  }
  return found;
}

function stopped(scene) {
  const place = stopInForce(scene);
  if (place === undefined) return [];
  const { reason } = scene.view.history.entry(place).about;
  return [refusal("stopped", { reason })];
}
