// What a point still rests on: steps, requirements, nonconformances, holds, others.

import { elapsedMs } from "./clocks.js";
import { openConditions } from "./conditions.js";
import { nonconformances } from "./faults.js";
import { unheard } from "./heard.js";
import { ranOut } from "./items.js";
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
    ...unmetHolds(scene, point),
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
      found.push(refusal(`step_${status}`, { step: name }));
    } else if (scene.view.sheet.raw.amended && ranOut(scene, step)) {
      // Sheets from before this was amended asked only when it was read.
      found.push(refusal("item_ran_out", { step: name }));
    }
  }
  return found;
}

function unmetHolds(scene, point) {
  const found = [];
  for (const hold of point.holds) {
    if (isOff(scene, scene.view.sheet.steps.get(hold.after))) continue;
    const began = scene.moment({ step: hold.after });
    if (began === undefined) {
      found.push(refusal("hold_not_begun", { hold: hold.id }));
    } else if (elapsedMs(began, scene.at, false) < hold.ms) {
      found.push(refusal("hold_running", { hold: hold.id, until: began.at + hold.ms }));
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
