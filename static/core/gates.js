// Gates: which releases stand, and what a gate forbade. A gate is judged on an entry's
// own past, what its author had seen, never on arrival. A release lapses when a value
// in its past is corrected, when a line it had not seen turns up on a step it covers,
// when a card of the plan says so, or under a refusal it had not seen. It expires for
// an act by use-by time. `now` decides what is offered, lapsing only what comes after.

import { surelyBefore, untimed } from "./bounds.js";
import { boundMs, DAY_MS, elapsedMs, MINUTE_MS } from "./clocks.js";
import { openConditions } from "./conditions.js";
import { holds } from "./graph.js";
import { reachedBy, unmet, waiting } from "./readiness.js";
import { refusal } from "./refusals.js";
import {
  givenBy, noticeLeftMs, onPoint, refuses, releaser, signerRefusals, withoutRelease,
} from "./signers.js";
import { lineState } from "./steps.js";

const UPSETTING = ["refusal", "stopped", "correction", "crew"];

/** @typedef {import("./refusals.js").Refusal} Refusal */

/** Give why a release did not count when it was made; empty when it did. */
export function births(scene, point, place) {
  const memo = scene.case.births;
  if (!memo.has(place)) {
    memo.set(place, [refusal("not_reached", { name: point.id })]);
    const past = scene.case.past(place);
    const { needs } = scene.view.history.entry(place);
    memo.set(place, [
      ...wrongSigner(past, point, place), ...unmet(past, point, needs)]);
  }
  return memo.get(place);
}

/** Give the id of the entry that made a release lapse in a scene, or undefined. */
export function lapse(scene, point, place) {
  const { history, mask } = scene.view;
  // A reading of a series in which nothing fails upsets no release.
  const other = upsetting(scene, point).find((each) => each !== place
    && holds(mask, each) && !history.saw(place, each) && !scene.case.quiet.has(each)
    && lapses(scene, point, place, each));
  return other === undefined ? undefined : history.entry(other).id;
}

/** Say whether a release counts and has not lapsed in a scene. */
export function stands(scene, point, place) {
  return scene.once(`stands|${point.id}|${place}`, true, () =>
    births(scene, point, place).length === 0
    && lapse(scene, point, place) === undefined);
}

/**
 * Give the releases of a point in its attempt, in order, standing or not. A release
 * spoken and read back is one too, where the plan allows it.
 */
export function releases(scene, point) {
  const found = onPoint(scene, point, "release");
  if (!point.raw.spoken_ms) return found;
  return [...found, ...onPoint(scene, point, "spoken")].sort((a, b) => a - b);
}

/** Give, for each release the point lists, the newest that stands (or undefined). */
export function standingReleases(scene, point) {
  const good = releases(scene, point).filter((place) => stands(scene, point, place));
  return point.releases.map((wanted) =>
    good.findLast((place) => givenBy(scene, point, wanted, place)));
}

/** Say whether every release a point lists stands. */
export function isOpen(standing) {
  return standing.length > 0 && !standing.includes(undefined);
}

/**
 * Give how long a release lasts, ms: its life, or up to the end of the shift. The shift
 * ends at a minute of the day on the clock of the release's own zone.
 */
export function lifeMs(point, release, moment) {
  const lives = point.lifeMs === undefined ? [] : [point.lifeMs];
  const until = point.raw.until_minute;
  if (until !== undefined) {
    const intoDay = withinDay(boundMs(moment, 0) + release.zone * MINUTE_MS);
    lives.push(withinDay(until * MINUTE_MS - intoDay));
  }
  return lives.length > 0 ? Math.min(...lives) : undefined;
}

/** Say whether a release has expired for an act at a moment. */
export function expired(scene, point, place, act) {
  const { history } = scene.view;
  const moment = history.moments[place];
  const life = lifeMs(point, history.entry(place), moment);
  return life !== undefined && elapsedMs(moment, act, true) > life;
}

/**
 * Give why a gate forbade an act when it was made; empty when it was free. The scene
 * may be any: the act is judged in its own past, by the sheet it was made under.
 * @returns {Refusal[]}
 */
export function forbidden(scene, step, place) {
  const memo = scene.case.acts;
  if (!memo.has(place)) {
    memo.set(place, []);
    const past = scene.case.under(place).past(place);
    const named = past.view.sheet.steps.get(step.id) ?? step;
    memo.set(place, actRefusals(past, named, place));
  }
  return memo.get(place);
}

/** Give why gates before a step are shut in a scene for an act at a moment. */
export function gateRefusals(scene, step, act) {
  const held = step.holds.filter(({ after }) => scene.lines(after).size > 0);
  const gates = step.gates.map((name) => scene.view.sheet.points.get(name));
  return [...gates.flatMap((point) => gate(scene, point, act)),
    ...openConditions(scene, step.id), ...waiting(scene, held, act)];
}

/** Say whether a point is behind us: released, or used by an act it allowed. */
export function passed(scene, point) {
  return scene.once(`passed|${point.id}`, false, () =>
    isOpen(standingReleases(scene, point)) || waived(scene, point)
    || used(scene, point));
}

/** Say whether a witness point's notice has run out unattended. */
export function waived(scene, point) {
  return point.raw.class === "witness" && noticeLeftMs(scene, point, scene.at) === 0;
}

/** Say whether an act was done through this point's open gate. */
export function used(scene, point) {
  const amended = (scene.view.sheet.raw.amended ?? 0) >= 2;
  return point.shuts.some((name) => {
    const step = scene.view.sheet.steps.get(name);
    const roots = [...scene.lines(name).values()].map((line) => line.root);
    const asked = amended && step.first && roots.length ? [Math.min(...roots)] : roots;
    return asked.some((root) => forbidden(scene, step, root).length === 0);
  });
}

function gate(scene, point, act) {
  const standing = standingReleases(scene, point);
  if (!isOpen(standing)) return withoutRelease(scene, point, act);
  const late = standing.filter((place) => expired(scene, point, place, act));
  if (late.length === 0) return [];
  const given = late.map((place) => scene.view.history.moments[place]);
  const code = given.some((each) => untimed(each, act)) ? "untimed" : "expired";
  return [refusal(`gate_${code}`, { point: point.id })];
}

// Also right for a moment before the first day.
function withinDay(ms) {
  return ((ms % DAY_MS) + DAY_MS) % DAY_MS;
}

function wrongSigner(scene, point, place) {
  const entry = scene.view.history.entry(place);
  if (entry.kind === "spoken") {
    if ([entry.person, entry.about.said_by].includes(entry.about.heard_by)) {
      return [refusal("not_heard", { point: point.id })];
    }
  } else if (entry.unlocked !== "pin") {
    return [refusal("pin_needed", { point: point.id })];
  }
  return signerRefusals(scene, point, releaser(entry));
}

function actRefusals(past, step, place) {
  const { history } = past.view;
  const entry = history.entry(place);
  if (step.first && past.view.hasLines(step.id, entry.attempt)) return [];
  const act = history.moments[place];
  const found = [...gateRefusals(past, step, act),
    ...(entry.at_by === "typed" ? beforeRelease(past, step, act) : [])];
  if (step.gated) {
    found.push(...step.needs.filter((name) => !reachedBy(past, name))
      .map((name) => refusal("not_reached", { name })));
  }
  if (found.length === 0 && entry.kind === "anyway") return [refusal("said_anyway")];
  return found;
}

// Why gates were shut if a typed time lies before all releases of one. Sheets from
// before this was amended took a release as given before what is copied.
function beforeRelease(past, step, act) {
  if ((past.view.sheet.raw.amended ?? 0) < 2) return [];
  return step.gates.flatMap((name) => {
    const point = past.view.sheet.points.get(name);
    if (!isOpen(standingReleases(past, point))) return [];
    const given = releases(past, point).filter((place) =>
      births(past, point, place).length === 0
        && !surelyBefore(act, past.view.history.moments[place]));
    return point.releases.every((wanted) => given.some((place) =>
      givenBy(past, point, wanted, place))) ? [] : withoutRelease(past, point, act);
  });
}

// The entries that may make a release of a point lapse, in order.
function upsetting(scene, point) {
  const memo = scene.case.upsetting;
  if (!memo.has(point.id)) {
    const { byKind, bearing, graph } = scene.view.history;
    const masks = point.covers.map((step) => bearing.get(step)).filter(Boolean);
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
  return entry.attempt === attemptJudged(scene, point, entry.step, release)
    && newsOfStep(scene, entry);
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
