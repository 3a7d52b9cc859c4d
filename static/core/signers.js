// Who may sign a point: role and organisation, deputies in turn, not one's own work.

import { elapsedMs } from "./clocks.js";
import { own } from "./own.js";
import { refusal } from "./refusals.js";
import { allowed } from "./view.js";

/** Give why a person may not release a point in a scene; empty when they may. */
export function signerRefusals(scene, point, person) {
  const facts = { point: point.id, person };
  if (!point.releases.some((each) => maySign(scene, point, each, person))) {
    const early = scene.view.sheet.amended
      && allowed(scene.view.standing, person, deputiesOf(point));
    return [refusal(early ? "deputy_early" : "wrong_role", facts)];
  }
  if (point.independent && workers(scene, point).has(person)) {
    return [refusal("own_work", facts)];
  }
  if (point.raw.other_organisation && sameOrganisation(scene, point, person)) {
    return [refusal("own_organisation", facts)];
  }
  return [];
}

/**
 * Say whether a person may give one wanted release: by role, or as a deputy. A deputy
 * may sign once the point was called and the deputy's wait has run.
 */
export function maySign(scene, point, wanted, person) {
  const { standing } = scene.view;
  if (allowed(standing, person, [wanted])) return true;
  return (wanted.deputies ?? []).some((deputy) =>
    allowed(standing, person, [deputy]) && waited(scene, point, deputy.after_ms));
}

/** Say whether a release is the one wanted, by who might give it at the time. */
export function givenBy(scene, point, wanted, place) {
  const who = releaser(scene.view.history.entry(place));
  return maySign(scene.case.past(place), point, wanted, who);
}

/** Give who released: the signer, or who is named as having said it. */
export function releaser({ about, person }) {
  return own(about, "said_by") ?? person;
}

/**
 * Give the spoken releases that a release was the first signature under: those its
 * signer had said, and knew to be written down.
 */
export function wordsSigned({ view }, point, place) {
  const { history } = view;
  const { person, unlocked, attempt } = history.entry(place);
  if (!point.raw.spoken_ms || unlocked !== "pin") return [];
  const known = (kind) => view.among(history.byPoint.get(`${point.id}/${kind}`))
    .filter((each) => history.entry(each).attempt === attempt
      && releaser(history.entry(each)) === person && history.saw(place, each));
  const before = known("release").filter((each) =>
    history.entry(each).unlocked === "pin");
  return known("spoken").filter((said) =>
    !before.some((other) => history.saw(other, said)));
}

/** Say whether who is named as having spoken signed it, by PIN, within its time. */
export function signedInTime(scene, point, place) {
  const { history, sheet } = scene.view;
  const said = history.entry(place);
  return onPoint(scene, point, "release").some((other) => {
    const { person, unlocked } = history.entry(other);
    const run = elapsedMs(history.moments[place], history.moments[other], true);
    // Sheets from before this was amended took any release of theirs, however late.
    return history.saw(other, place) && person === said.about.said_by
      && (sheet.amended < 2 || (unlocked === "pin" && run <= point.raw.spoken_ms));
  });
}

/** Say whether a refusal counts: by a role that may release the point. */
export function refuses(scene, point, place) {
  const { person } = scene.view.history.entry(place);
  return allowed(scene.view.standing, person,
    [...point.releases, ...deputiesOf(point)]);
}

/**
 * Give who did the work a point covers: readings, corrections, declared crew. Who only
 * brought a picture of it looked at it, and did no part of it.
 */
export function workers(scene, point) {
  const { view } = scene;
  const { history } = view;
  const people = new Set();
  for (const step of point.covers) {
    for (const line of scene.lines(step).values()) {
      const stated = line.asserted.filter((place) => !history.added.has(place));
      for (const place of stated) people.add(history.entry(place).person);
    }
  }
  for (const place of view.among(history.byKind.get("crew"))) {
    for (const person of history.entry(place).about.people) people.add(person);
  }
  return people;
}

/** Give the entries of a kind on a point in its attempt, in order. */
export function onPoint(scene, point, kind) {
  const { view } = scene;
  const attempt = view.attemptOf(point.id);
  return view.among(view.history.byPoint.get(`${point.id}/${kind}`))
    .filter((place) => view.history.entry(place).attempt === attempt);
}

/**
 * Give how much of a witness point's notice is still to run, ms; undefined: not given.
 * Notice runs from the entry that says it was received, never from an unsent call.
 */
export function noticeLeftMs(scene, point, act) {
  const [given] = onPoint(scene, point, "notice");
  if (given === undefined) return undefined;
  const began = scene.view.history.moments[given];
  return Math.max((point.raw.notice_ms ?? 0) - elapsedMs(began, act, false), 0);
}

/** Give why a point not released is shut: a witness's notice may run out. */
export function withoutRelease(scene, point, act) {
  if (point.raw.class !== "witness") return [refusal("gate_shut", { point: point.id })];
  const left = noticeLeftMs(scene, point, act);
  if (left === undefined) return [refusal("notice_not_given", { point: point.id })];
  if (left === 0) return [];
  return [refusal("notice_running", { point: point.id, until: act.at + left })];
}

/** Give the calls that nobody has withdrawn, refused or fully answered, in order. */
export function callsInForce(scene, point) {
  const { history, sheet } = scene.view;
  const calls = onPoint(scene, point, "called");
  // A sheet from before this was amended counts every call.
  if (!sheet.amended) return calls;
  const ends = ["call_withdrawn", "refusal"].flatMap((kind) =>
    onPoint(scene, point, kind).filter((place) => kind !== "refusal"
      || refuses(scene, point, place)));
  const given = ["release", "spoken"].flatMap((kind) => onPoint(scene, point, kind));
  const saw = (call) => (place) => history.saw(place, call);
  return calls.filter((call) => !ends.some(saw(call)) && new Set(given.filter(saw(call))
    .filter((place) => answers(scene, point, call, place))
    .map((place) => releaser(history.entry(place)))).size < point.releases.length);
}

// Whether a release is of somebody who was to answer a call by then.
function answers(scene, point, call, place) {
  const { history, standing } = scene.view;
  const who = releaser(history.entry(place));
  const run = elapsedMs(history.moments[call], history.moments[place], false);
  return allowed(standing, who, point.releases)
    || deputiesOf(point).some((deputy) =>
      allowed(standing, who, [deputy]) && run >= deputy.after_ms);
}

function deputiesOf(point) {
  return point.releases.flatMap((each) => each.deputies ?? []);
}

function waited(scene, point, afterMs) {
  const { moments } = scene.view.history;
  return callsInForce(scene, point).some((place) =>
    elapsedMs(moments[place], scene.at, false) >= afterMs);
}

function sameOrganisation(scene, point, person) {
  const { people } = scene.view.standing;
  const organisation = (who) => own(people, who)?.organisation;
  const mine = organisation(person);
  return [...workers(scene, point)].some((worker) => organisation(worker) === mine);
}
