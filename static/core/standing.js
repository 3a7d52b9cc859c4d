// The little other subjects need to know of a subject, taken from its state.

import { ID } from "./entries.js";

/**
 * Give a subject's standing: milestones with entry ids, open blocks, items named.
 * @param {object} state as `fold` gives it @param {number} asOf ms UTC
 * @returns {{items:string[], milestones:Record<string, string>, verdict:string,
 *   blocking:string[], as_of:number}}
 */
export function standingOf(state, asOf) {
  const milestones = {};
  for (const [name, found] of Object.entries(state.milestones)) {
    milestones[name] = found.entry;
  }
  for (const [name, step] of Object.entries(state.steps)) {
    const lines = Object.values(step.lines);
    if (step.status === "done" && lines.length > 0) {
      milestones[name] = lines.reduce((last, line) =>
        (isLater(line, last) ? line : last)).entry;
    }
  }
  for (const [name, point] of Object.entries(state.points)) {
    if (point.status === "released" && point.release) {
      milestones[name] = point.release.at(-1);
    }
  }
  return {
    items: itemsOf(state),
    milestones,
    verdict: state.verdict,
    blocking: state.nonconformances.filter((each) => each.blocks.length > 0)
      .map((each) => each.id),
    as_of: asOf,
  };
}

// Every item some reading of the subject names, sorted.
function itemsOf(state) {
  const lines = Object.values(state.steps).flatMap((step) => Object.values(step.lines));
  const named = lines.flatMap((line) => Object.values(line.values))
    .filter((value) => typeof value === "string" && ID.test(value));
  return [...new Set(named)].sort();
}

function isLater(line, other) {
  return line.at > other.at || (line.at === other.at && line.entry > other.entry);
}
