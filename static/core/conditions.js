// Conditions of a release: open items, each to be closed before a step it names.

import { refusal } from "./refusals.js";
import { onPoint } from "./signers.js";

/**
 * One open item of a release: its text, the step it must be closed before.
 * @typedef {{release:number, number:number, text:string, before:string,
 *   closedBy?:number}} Condition
 */

/** Give the conditions of a point's releases, in order, open or closed. */
export function conditions(scene, point) {
  const { view } = scene;
  const { history } = view;
  const closings = view.among(history.byKind.get("condition_closed"));
  return onPoint(scene, point, "release").flatMap((release) => {
    const { id, about } = history.entry(release);
    return (about.conditions ?? []).map(({ text, before }, number) => {
      const closedBy = closings.find((place) => {
        const closing = history.entry(place).about;
        return closing.target === id && closing.condition === number;
      });
      return { release, number, text, before, closedBy };
    });
  });
}

/** Give the conditions of releases that must be closed before a step or point. */
export function openConditions(scene, name) {
  if (!scene.view.history.conditioned.has(name)) return [];
  return [...scene.view.sheet.points.values()].flatMap((point) =>
    conditions(scene, point)
      .filter((each) => each.before === name && each.closedBy === undefined)
      .map((each) =>
        refusal("condition_open", { point: point.id, condition: each.text })));
}
