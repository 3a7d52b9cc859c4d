/**
 * Calls of the vectors that ask what a line raised before, and which gate it shuts. The
 * twin of `tests/core/vector_earlier.py`.
 */

import { failuresGone, gone, superseded } from "../../static/core/earlier.js";
import { isEarly, isSettled } from "../../static/core/early.js";
import { nonconformances } from "../../static/core/faults.js";
import { signedWords } from "../../static/core/gates.js";
import { shutting, wentThrough } from "../../static/core/shutting.js";
import { signedInTime, wordsSigned } from "../../static/core/signers.js";
import { statedAt } from "../../static/core/slips.js";
import { lineRaises } from "../../static/core/steps.js";
import { stops } from "../../static/core/stops.js";
import { takenOff, thrownAway } from "../../static/core/unused.js";
import { decides, redoes } from "../../static/core/view.js";

const checkOf = (t) => t.step.checks.find((each) => each.id === t.given.check);
const labels = (t, places) => places.map((place) => t.label(place));
const failures = (t, found) => found.map(([check, place]) => [check, t.label(place)]);

export const EARLIER = {
  "early.is_early": (t) => isEarly(t.scene, checkOf(t), t.line),
  "early.is_settled": (t) => isSettled(t.scene, checkOf(t), t.line),
  "earlier.superseded": (t) => failures(t, superseded(t.scene, t.step, t.line)),
  "earlier.gone": (t) => {
    const found = gone(t.scene, t.step, t.line);
    return found === undefined ? "missing" : labels(t, found.places);
  },
  "earlier.failures_gone": (t) =>
    failures(t, failuresGone(t.scene, t.step, gone(t.scene, t.step, t.line))),
  "shutting.shutting": (t) => {
    const [fault] = nonconformances(t.scene);
    return shutting(t.scene, { ...fault, shuts: t.given.shuts }).shuts;
  },
  "steps.line_raises": (t) => lineRaises(t.scene, t.step, t.line, t.given.failed),
  "unused.thrown_away": (t) => thrownAway(t.scene, t.clock, t.given.line),
  "unused.taken_off": (t) => {
    const found = takenOff(t.scene, t.clock, t.given.line);
    return found === undefined ? "missing" : found.at / 60_000;
  },
  "shutting.went_through": (t) => wentThrough(t.scene, t.given.point),
  "slips.stated_at": (t) =>
    statedAt(t.scene.view.history, t.line, t.given.mended),
  "stops.stops": (t) => stops(t.scene),
  "view.redoes": (t) => redoes(t.scene.view, t.place),
  "view.decides": (t) => decides(t.scene.view, t.place),
  "signers.signed_in_time": (t) => signedInTime(t.scene, t.point, t.place),
  "gates.signed_words": (t) => labels(t, signedWords(t.scene, t.point, t.place)),
  "signers.words_signed": (t) => labels(t, wordsSigned(t.scene, t.point, t.place)),
};
