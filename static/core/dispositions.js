// What was decided about a nonconformance, and the computed ids of derived ones. A
// derived nonconformance is never an entry, or every node would raise its own: its id
// is a hash of what it is about, so that a disposition made on one phone names the
// same thing everywhere.

import { sha256Hex } from "./sha256.js";
import { allowed, decides, mayDispose, strictest } from "./view.js";

/** The check name of an act that a gate forbade. */
export const GATE = "gate";

const ids = new Map();
const MOST_IDS = 5_000;

/** Give the id of a derived nonconformance: SHA-256 of its parts. */
export function computedId(...parts) {
  const text = ["nonconformance", ...parts].join("|");
  if (!ids.has(text)) {
    if (ids.size >= MOST_IDS) ids.clear();
    ids.set(text, sha256Hex(text));
  }
  return ids.get(text);
}

/** Give the id of a reading's failure of a check. */
export function readingFaultId(check, entryId) {
  return computedId("reading", check, entryId);
}

/** Give the id of a whole step's failure of a check, in its attempt. */
export function stepFaultId(scene, step, check) {
  const attempt = scene.view.attemptOf(step) ?? "first";
  return computedId("step", scene.view.sheet.subject, attempt, step, check);
}

/** Give the id of a clock that has run over one of its ratios. */
export function clockFaultId(scene, attempt, clock, ratio) {
  const { subject } = scene.view.sheet;
  return computedId("clock", subject, attempt ?? "first", clock, ratio);
}

/**
 * Give what was decided about a nonconformance, as this scene knows it. Of decisions
 * none of which saw another the strictest stands until one that has seen them all.
 * @returns {{status:string, verdict?:string, place?:number, blocks:boolean}}
 *   status open, proposed, disposed or closed; the verdict and its entry's place;
 *   whether gates stay shut
 */
export function disposal(scene, faultId) {
  const { view } = scene;
  const { history } = view;
  const about = view.among(history.byTarget.get(faultId));
  const decided = about.filter((place) =>
    history.entry(place).kind === "disposition" && decides(view, place));
  if (decided.length === 0) {
    const proposed = about.some((place) => mayPropose(scene, place));
    return disposalOf(proposed ? "proposed" : "open");
  }
  const place = strictest(view, decided);
  const closed = about.some((other) => history.entry(other).kind === "closing"
    && history.saw(other, place) && mayDispose(view, other));
  const { verdict } = history.entry(place).about;
  return disposalOf(closed ? "closed" : "disposed", verdict, place);
}

/** Say whether a failure was decided in a way that lets its step count. */
export function accepted(scene, faultId) {
  const found = disposal(scene, faultId);
  return ["use_as_is", "repair"].includes(found.verdict) && !found.blocks;
}

// Gates stay shut while it is undecided, rejected, or not yet repaired.
function disposalOf(status, verdict, place) {
  const undecided = status === "open" || status === "proposed";
  const unrepaired = verdict === "repair" && status !== "closed";
  const blocks = undecided || verdict === "reject" || unrepaired;
  return { status, verdict, place, blocks };
}

function mayPropose(scene, place) {
  const entry = scene.view.history.entry(place);
  const wanted = scene.view.sheet.raw.propose ?? [];
  return entry.kind === "proposal"
    && allowed(scene.view.standing, entry.person, wanted);
}
