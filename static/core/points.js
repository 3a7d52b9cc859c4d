// A point laid out as plain data: its status, and everything it rests on.

import { boundMs } from "./clocks.js";
import { conditions } from "./conditions.js";
import {
  births, expired, isOpen, lifeMs, releases, signedWords, standingReleases, used,
} from "./gates.js";
import { lastHeard } from "./heard.js";
import { lapse } from "./lapses.js";
import { unmet } from "./readiness.js";
import { callsInForce, givenBy, noticeLeftMs, onPoint, refuses } from "./signers.js";

/** Give a point's status, what it rests on, its releases and conditions. */
export function pointState(scene, point) {
  const { history } = scene.view;
  const state = { refusals: unmet(scene, point) };
  const heard = point.raw.heard && lastHeard(scene, point);
  if (heard) state.heard = heard.at;
  const standing = standingReleases(scene, point);
  const found = conditions(scene, point).map((each) => conditionOut(scene, each));
  if (found.length > 0) state.conditions = found;
  const signed = onPoint(scene, point, "release").flatMap((place) =>
    signedWords(scene, point, place).map((said) =>
      [history.entry(said).id, history.entry(place).id]));
  if (signed.length > 0) state.signed = Object.fromEntries(signed);
  const given = standing.filter((place) => place !== undefined);
  if (given.length > 0) state.release = given.map((place) => history.entry(place).id);
  if (isOpen(standing)) return { ...state, ...openPoint(scene, point, given) };
  if (used(scene, point)) return { ...state, status: "released" };
  return { ...state, ...unreleased(scene, point, state.refusals) };
}

function conditionOut(scene, { release, number, text, before, closedBy }) {
  const { id } = scene.view.history.entry(release);
  return { release: id, number, text, before, open: closedBy === undefined ? 1 : 0 };
}

function openPoint(scene, point, given) {
  const late = given.some((place) => expired(scene, point, place, scene.at));
  const status = late && !used(scene, point) ? "expired" : "released";
  const ends = given.map((place) => endOf(scene, point, place)).filter(Boolean);
  return ends.length > 0 ? { status, until: Math.min(...ends) } : { status };
}

function endOf(scene, point, place) {
  const { history } = scene.view;
  const moment = history.moments[place];
  const life = lifeMs(point, history.entry(place), moment);
  return life === undefined ? undefined : boundMs(moment, 0) + life;
}

function unreleased(scene, point, refusals) {
  const { history } = scene.view;
  const counts = (place) => history.entry(place).kind !== "refusal"
    || refuses(scene, point, place);
  const newest = (kind) => onPoint(scene, point, kind).filter(counts).at(-1) ?? -1;
  const [called, withdrawn, refused] =
    [newest("called"), newest("call_withdrawn"), newest("refusal")];
  if (refused > called && !overcome(scene, point, refused)) {
    return { status: "refused", refused_by: history.entry(refused).id };
  }
  const call = callsInForce(scene, point).at(-1);
  const found = call !== undefined && called > withdrawn
    ? { called: history.entry(call).id } : {};
  const left = noticeLeftMs(scene, point, scene.at);
  if (point.raw.class === "witness" && left !== undefined) {
    found.notice_until = scene.at.at + left;
    if (left === 0) return { ...found, status: "waived" };
  }
  const lapsedBy = lapsedNewest(scene, point);
  if (lapsedBy !== undefined) {
    return { ...found, status: "lapsed", lapsed_by: lapsedBy };
  }
  if (found.called) return { ...found, status: "called" };
  return { ...found, status: refusals.length > 0 ? "waiting" : "ready" };
}

function lapsedNewest(scene, point) {
  const valid = validReleases(scene, point).at(-1);
  return valid === undefined ? undefined : lapse(scene, point, valid);
}

function validReleases(scene, point) {
  return releases(scene, point)
    .filter((place) => births(scene, point, place).length === 0);
}

// Whether all who are to release did so after a refusal: then it may lapse. Sheets from
// before this was amended went back to the refusal.
function overcome(scene, point, refusal) {
  const { history, sheet } = scene.view;
  if (sheet.amended < 2) return false;
  const seen = validReleases(scene, point)
    .filter((place) => history.saw(place, refusal));
  return point.releases.every((wanted) =>
    seen.some((place) => givenBy(scene, point, wanted, place)));
}
