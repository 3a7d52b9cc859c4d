// Gates: which releases stand, and what a gate forbade. A gate is judged on an entry's
// own past, what its author had seen, never on arrival. A release lapses by what its
// signer had not seen, and it expires for an act by use-by time. `now` decides what is
// offered, lapsing only what comes after.

import { surelyAfter, surelyBefore, untimed } from "./bounds.js";
import { boundMs, DAY_MS, elapsedMs, MINUTE_MS, momentOf } from "./clocks.js";
import { openConditions } from "./conditions.js";
import { nonconformances, UNSIGNED } from "./faults.js";
import { holds } from "./graph.js";
import { lapse, lapsing } from "./lapses.js";
import { reachedBy, unmet, waiting } from "./readiness.js";
import { refusal } from "./refusals.js";
import { wentThrough } from "./shutting.js";
import {
  givenBy, noticeLeftMs, onPoint, releaser, signerRefusals, withoutRelease,
  wordsSigned,
} from "./signers.js";
import { takenOff } from "./unused.js";

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
  const alone = found.filter((place) => signedWords(scene, point, place).length === 0);
  return [...alone, ...onPoint(scene, point, "spoken")].sort((a, b) => a - b);
}

/**
 * Give the spoken releases that a release only signs: it is none of its own. What was
 * said counts from when it was said. Only where it is over may who said it have
 * released anew; where that would not count it was a signature all the same.
 */
export function signedWords(scene, point, place) {
  if (scene.view.sheet.amended < 2) return [];
  const said = wordsSigned(scene, point, place)
    .filter((each) => births(scene, point, each).length === 0);
  if (said.length === 0 || births(scene, point, place).length > 0) return said;
  const past = scene.case.past(place);
  return said.some((each) => stands(past, point, each)
    && !expired(past, point, each, past.at)) ? said : [];
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
 * Give how long a release lasts, ms: its life, or up to the end of the shift. A shift
 * ends at a minute of the day on the clock of the release's own zone; where there are
 * several, at the next.
 */
export function lifeMs(point, release, moment) {
  const lives = point.lifeMs === undefined ? [] : [point.lifeMs];
  const intoDay = withinDay(boundMs(moment, 0) + release.zone * MINUTE_MS);
  for (const end of [point.raw.until_minute ?? []].flat()) {
    lives.push(withinDay(end * MINUTE_MS - intoDay));
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
  const amended = scene.view.sheet.amended >= 2;
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
  if (late.length === 0) return news(scene, point, standing);
  const given = late.map((place) => scene.view.history.moments[place]);
  const code = given.some((each) => untimed(each, act)) ? "untimed" : "expired";
  return [refusal(`gate_${code}`, { point: point.id })];
}

// The nonconformances that shut a released gate nothing went through yet: its signers
// did not know of them. What is half done is not held up in the middle, and a time that
// runs out meanwhile waits for the next gate. Sheets from before this was amended let
// all of them wait.
function news(scene, point, given) {
  const { history, mask, sheet } = scene.view;
  if (sheet.amended < 2 || wentThrough(scene, point.id)) return [];
  const { entries, everything } = history.graph;
  const isNew = (place) => holds(mask, place) && !given.some((release) =>
    release === place || history.saw(release, place));
  if (mask !== everything && ![...entries.keys()].some(isNew)) return [];
  return nonconformances(scene).filter(({ code, shuts }) => code !== "clock_over"
    && code !== UNSIGNED && shuts.includes(point.id))
    .map(({ id }) => refusal("nonconformance", { id }));
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
  // What was taken off again passed its gate; more of it wants the gate anew.
  if (step.first && past.view.hasLines(step.id, entry.attempt)
    && !(entry.attempt === past.view.attemptOf(step.id)
      && takenOff(past, { start: step.id }, ""))) return [];
  const act = history.moments[place];
  const found = [...gateRefusals(past, step, act),
    ...(entry.at_by === "typed" ? withoutStanding(past, step, act) : [])];
  if (step.gated) {
    found.push(...step.needs.filter((name) => !reachedBy(past, name))
      .map((name) => refusal("not_reached", { name })));
  }
  if (found.length === 0 && entry.kind === "anyway") return [refusal("said_anyway")];
  return found;
}

// Why gates were shut if a typed time lies where no release of one stood: before the
// first was given, or between one that was over and the next. Sheets from before this
// was amended took a release as given before what is copied.
function withoutStanding(past, step, act) {
  if (past.view.sheet.amended < 2) return [];
  return step.gates.flatMap((name) => {
    const point = past.view.sheet.points.get(name);
    if (!isOpen(standingReleases(past, point))) return [];
    const given = releases(past, point).filter((place) =>
      births(past, point, place).length === 0 && stood(past, point, place, act));
    return point.releases.every((wanted) => given.some((place) =>
      givenBy(past, point, wanted, place))) ? [] : withoutRelease(past, point, act);
  });
}

// Whether a release may have stood at a typed time: given by then, and not over.
function stood(past, point, place, act) {
  const { history } = past.view;
  const given = history.moments[place];
  const life = lifeMs(point, history.entry(place), given);
  if (surelyBefore(act, given)) return false;
  if (life !== undefined && surelyAfter(act, given, life)) return false;
  return !lapsing(past, point, place).some((each) => !history.moments[each].unknown
    && surelyAfter(act, signedAt(history.entry(each))));
}

function signedAt(entry) {
  return momentOf(entry, entry.made);
}
