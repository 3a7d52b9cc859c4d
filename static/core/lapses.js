// What ends a release that counted: news that its signer had not seen. It lapses when a
// value in its past is corrected, when a line it had not seen turns up on a step it
// covers, when a card of the plan says so, or under a refusal it had not seen. Lapsing
// reopens only what comes after.

import { holds } from "./graph.js";
import { refuses, releaser } from "./signers.js";
import { isOff, lineState } from "./steps.js";

const UPSETTING = ["refusal", "stopped", "correction", "crew"];

/** Give the id of the entry that made a release lapse in a scene, or undefined. */
export function lapse(scene, point, place) {
  const other = upsetting(scene, point).find((each) => ends(scene, point, place, each));
  return other === undefined ? undefined : scene.view.history.entry(other).id;
}

/** Give every entry by which a release of a point lapses in a scene, in order. */
export function lapsing(scene, point, place) {
  return upsetting(scene, point).filter((each) => ends(scene, point, place, each));
}

// Whether a release ends by an entry. Of a series a reading in which nothing fails
// upsets none.
function ends(scene, point, place, other) {
  const { history, mask } = scene.view;
  return other !== place && holds(mask, other) && !history.saw(place, other)
    && !scene.case.quiet.has(other) && lapses(scene, point, place, other);
}

// The entries that may make a release of a point lapse, in order.
function upsetting(scene, point) {
  const memo = scene.case.upsetting;
  if (!memo.has(point.id)) {
    const { byKind, bearing, graph } = scene.view.history;
    const steps = [...point.covers, ...takingOff(scene, point)];
    const masks = steps.map((step) => bearing.get(step)).filter(Boolean);
    const told = new Set(UPSETTING.flatMap((kind) => byKind.get(kind) ?? []));
    memo.set(point.id, [...graph.entries.keys()].filter((place) =>
      told.has(place) || masks.some((mask) => holds(mask, place))));
  }
  return memo.get(point.id);
}

function lapses(scene, point, place, other) {
  const { history } = scene.view;
  const entry = history.entry(other);
  const release = history.entry(place);
  if (entry.kind === "refusal") {
    return entry.point === point.id && entry.attempt === release.attempt
      && refuses(scene, point, other);
  }
  if (entry.kind === "stopped") return point.lapses.includes(entry.about.reason);
  if (entry.kind === "correction") {
    const root = history.graph.index.get(entry.about.target);
    return root !== undefined && history.saw(place, root) && !history.added.has(other);
  }
  if (entry.kind === "crew") {
    return point.independent && entry.about.people.includes(releaser(release));
  }
  if (takesOff(scene, point, place, other)) return true;
  return point.covers.includes(entry.step)
    && entry.attempt === attemptJudged(scene, point, entry.step, release)
    && newsOfStep(scene, entry) && !isSpent(scene, point, place, other);
}

// The steps that take off again what is put on behind a point.
function takingOff({ view: { sheet } }, point) {
  return sheet.amended < 2 ? [] : [...sheet.steps.values()].filter((step) =>
    step.takesOff.some((name) => point.shuts.includes(name))).map(({ id }) => id);
}

// Whether what was put on by a release was taken off again: more wants a new one. Of
// what was not taken off well (not clean, or half read) something is on still.
function takesOff(scene, point, place, other) {
  const { history } = scene.view;
  const { attempt, kind, step } = history.entry(other);
  return kind !== "discarded" && takingOff(scene, point).includes(step)
    && attempt === history.entry(place).attempt && isWell(scene, other)
    && point.shuts.some((name) => [...scene.view.linesIn(name, attempt).values()]
      .some(({ root }) => history.saw(other, root) && history.saw(root, place)));
}

function isWell(scene, place) {
  const { attempt, step } = scene.view.history.entry(place);
  const line = [...scene.view.linesIn(step, attempt).values()]
    .find(({ root }) => root === place);
  return line !== undefined
    && lineState(scene, scene.view.sheet.steps.get(step), line).status === "ok";
}

// Whether a reading came after the one act a release had to let through: a gate that
// only the first kit passes is behind once that is mixed, and no other is called for.
function isSpent(scene, point, place, other) {
  const { sheet, history } = scene.view;
  const { attempt } = history.entry(place);
  const isBegun = (name) => [...scene.view.linesIn(name, attempt).values()]
    .some(({ root }) => history.saw(other, root) && history.saw(root, place));
  return sheet.amended >= 2 && history.entry(other).kind !== "discarded"
    && point.shuts.every((name) => sheet.steps.get(name).first)
    && point.shuts.some(isBegun) && point.shuts.every((name) =>
    isBegun(name) || isOff(scene, sheet.steps.get(name)));
}

// The attempt whose readings of a step a release can be upset by.
function attemptJudged(scene, point, step, release) {
  const { view } = scene;
  const current = release.attempt === view.attemptOf(point.id);
  return current ? view.attemptOf(step) : release.attempt;
}

// A discard or a line unseen is news; of a series only a reading that fails a check.
function newsOfStep(scene, entry) {
  const step = scene.view.sheet.steps.get(entry.step);
  if (!step.series || entry.kind === "discarded") return true;
  const line = scene.lines(step.id).get(entry.id);
  return line !== undefined && lineState(scene, step, line).failed.length > 0;
}
