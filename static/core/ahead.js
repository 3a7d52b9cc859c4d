// How long another subject has been ahead of this one: by what was recorded as done,
// allowed or not, so that two may be told of each other without waiting.

import { own } from "./own.js";

/** Give when each step's last reading was done, ms UTC, if any. */
export function momentsOf(scene, steps) {
  const known = steps.filter((step) => scene.view.sheet.steps.has(step));
  return Object.fromEntries(known
    .map((step) => [step, Math.max(...timesOf(scene, scene.view.lines(step)))])
    .filter(([, at]) => at > -Infinity));
}

/** Give from when to when (undefined: still) the other of a clock was ahead. */
export function spansBehind(scene, { until: step, other }) {
  const { view } = scene;
  const told = own(view.standing.subjects, other.subject)?.moments;
  const since = own(told, step);
  if (since === undefined || (own(told, other.undone) ?? -1) >= since) return [];
  const steps = [[step, true]];
  if (other.undone) steps.push([other.undone, false]);
  const events = view.attempts().flatMap(([attempt]) => steps.flatMap(([name, done]) =>
    everyTime(view, view.linesIn(name, attempt)).map((at) => [at, done])));
  return behind(since, events, timesOf(scene, view.lines(step)).length > 0);
}

/**
 * Give the spans without this subject after the other's moment `since`.
 * @param {[number, boolean][]} events moment, done or undone again
 * @param {boolean} here whether it stands as done; if not, and nothing was undone, it
 *   never was
 */
export function behind(since, events, here) {
  const spans = [];
  let start = since;
  for (const [at, done] of events.sort(([a, x], [b, y]) => a - b || x - y)) {
    if (done && start !== undefined) {
      if (at > start) spans.push([start, at]);
      start = undefined;
    } else if (!done && start === undefined) start = Math.max(at, since);
  }
  if (start !== undefined) return [...spans, [start, undefined]];
  return here ? spans : [[since, undefined]];
}

function timesOf({ view }, lines) {
  return [...lines.values()].filter((line) => !line.discarded)
    .map((line) => view.moment(line).at);
}

// Also when they were done once more; corrections are no doing.
function everyTime(view, lines) {
  const { history } = view;
  return [...lines.values()].filter((line) => !line.discarded).flatMap((line) =>
    [view.moment(line).at, ...line.asserted
      .filter((place) => history.entry(place).kind !== "correction")
      .map((place) => history.moments[place].at)]);
}
