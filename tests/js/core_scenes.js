/**
 * Calls of the vectors that ask a story: the scene of its entries at a minute. The twin
 * of `tests/core/vector_scenes.py`.
 */

import { momentsOf, spansBehind } from "../../static/core/ahead.js";
import { attemptChain, isOn } from "../../static/core/attempts.js";
import { between } from "../../static/core/bounds.js";
import { conditions, openConditions } from "../../static/core/conditions.js";
import {
  accepted, clockFaultId, disposal, stepFaultId,
} from "../../static/core/dispositions.js";
import { nonconformances } from "../../static/core/faults.js";
import { flags } from "../../static/core/flags.js";
import { fold, recordRefusals, stateOf } from "../../static/core/fold.js";
import * as gates from "../../static/core/gates.js";
import { lastHeard, unheard } from "../../static/core/heard.js";
import { readHistory } from "../../static/core/history.js";
import {
  findItem, itemFailures, lookedAt, namedTwice, outUntimed, ranOut, reliedOnCorrected,
} from "../../static/core/items.js";
import { lapse, lapsing } from "../../static/core/lapses.js";
import { saidToStay, takenBack } from "../../static/core/lasting.js";
import * as lives from "../../static/core/lives.js";
import { outlasting } from "../../static/core/outlasting.js";
import { guessed, lineMs, remainingMs, sureMs } from "../../static/core/pace.js";
import { pointState } from "../../static/core/points.js";
import { kindOf, stopInForce, unmet, waiting } from "../../static/core/readiness.js";
import { releaseRefusals, reliedOn } from "../../static/core/rules.js";
import * as signers from "../../static/core/signers.js";
import * as steps from "../../static/core/steps.js";
import { allFaults, verdict } from "../../static/core/verdict.js";
import { mayDispose, strictest } from "../../static/core/view.js";
import { EARLIER } from "./core_earlier.js";
import { plain, shownRatio } from "./core_words.js";

function sorted(faults) {
  const key = (each) => [each.code, each.check ?? "", each.line ?? ""].join(" ");
  return faults.sort((one, other) => (key(one) < key(other) ? -1 : 1));
}

function faultsOut(t) {
  return sorted([...nonconformances(t.scene)]).map((each) => ({
    code: each.code,
    step: plain(each.step),
    line: each.line,
    check: plain(each.check),
    entry: t.label(each.place),
    shuts: each.shuts,
    status: each.disposal.status,
  }));
}

function attemptsOut(t) {
  const { view } = t.scene;
  const ordered = view.among(view.history.byKind.get("disposition"));
  return attemptChain(view, ordered).map((each) => each.map(plain));
}

function disposalOut(t) {
  const { status, verdict: decided, place, blocks } = disposal(t.scene, t.fault);
  return { status, verdict: plain(decided), place: t.label(place), blocks };
}

function historyOut(t) {
  const history = readHistory(t.sheet, t.entries);
  const unknown = [...history.moments.keys()].filter((place) =>
    history.moments[place].unknown);
  return {
    uncounted: history.uncounted.map(([code, place]) => [code, t.label(place)]),
    time_unknown: unknown.map((place) => t.label(place)),
  };
}

function picked(t) {
  const state = fold(t.sheet, t.entries, t.standing, { at: t.scene.at.at });
  return t.given.pick.map((path) => path.split("/").reduce(
    (found, name) => (found === "missing" ? found : found[name] ?? "missing"), state));
}

function runOut(t, run = t.run) {
  if (!run) return "missing";
  const used = shownRatio(run.used);
  return { start: t.label(run.start), run_ms: run.runMs, ended: run.ended, used };
}

function stepOut(t) {
  const { status, missing, failed, cautions, lines } = steps.stepState(t.scene, t.step);
  const states = [...lines].map(([name, line]) => [name, line.status]);
  return { status, missing, failed, cautions, lines: Object.fromEntries(states) };
}

function unsettledOut(t) {
  const read = t.scene.lines(t.step.id);
  const told = () => steps.unsettled(t.scene, t.step, read).map((line) => line.id);
  return [told(), told()];
}

function lineOut(t) {
  const { status, failed, cautions } = steps.lineState(t.scene, t.step, t.line);
  return { status, failed, cautions };
}

function conditionsOut(t) {
  return conditions(t.scene, t.point).map((each) => ({
    release: t.label(each.release),
    number: each.number,
    text: each.text,
    before: each.before,
    closed_by: t.label(each.closedBy),
  }));
}

function lastHeardOut(t) {
  const found = lastHeard(t.scene, t.point, t.given.needs);
  return found ? { at: found.at, age_ms: found.ageMs, entry: plain(found.entry) }
    : "missing";
}

const labels = (t, places) => places.map((place) => t.label(place));

export const SCENES = {
  ...EARLIER,
  "ahead.moments_of": (t) => momentsOf(t.scene, t.given.steps),
  "ahead.spans_behind": (t) => plain(spansBehind(t.scene, t.clock)),
  "bounds.between": (t) => {
    const { graph, moments } = t.scene.view.history;
    return between(graph, moments, t.place).map((each) =>
      (each === undefined ? "missing" : Math.floor(each.at / 60_000)));
  },
  "conditions.conditions": conditionsOut,
  "conditions.open_conditions": (t) => openConditions(t.scene, t.given.name),
  "dispositions.step_fault_id": (t) =>
    stepFaultId(t.scene, t.given.step, t.given.check),
  "dispositions.clock_fault_id": (t) =>
    clockFaultId(t.scene, t.given.attempt, t.given.clock, t.given.ratio),
  "dispositions.disposal": disposalOut,
  "dispositions.accepted": (t) => accepted(t.scene, t.fault),
  "faults.nonconformances": faultsOut,
  "flags.flags": (t) => flags(t.scene),
  "fold.fold": picked,
  "fold.present": (t) => t.scene.at.at,
  "fold.state_of": (t) => Object.keys(stateOf(t.scene)).sort(),
  "fold.record_refusals": (t) => recordRefusals(t.scene, t.step),
  "gates.births": (t) => gates.births(t.scene, t.point, t.place),
  "attempts.attempt_chain": attemptsOut,
  "attempts.is_on": (t) => isOn(t.scene.view, t.step,
    t.scene.view.attempts().slice(0, t.given.attempts)),
  "gates.lapse": (t) => plain(lapse(t.scene, t.point, t.place)),
  "lapses.lapse": (t) => plain(lapse(t.scene, t.point, t.place)),
  "lapses.lapsing": (t) => labels(t, lapsing(t.scene, t.point, t.place)),
  "gates.stands": (t) => gates.stands(t.scene, t.point, t.place),
  "gates.releases": (t) => labels(t, gates.releases(t.scene, t.point)),
  "gates.releaser": (t) => signers.releaser(t.entry),
  "gates.standing_releases": (t) =>
    labels(t, gates.standingReleases(t.scene, t.point)),
  "gates.life_ms": (t) =>
    plain(gates.lifeMs(t.point, t.entry, t.scene.view.history.moments[t.place])),
  "gates.refuses": (t) => signers.refuses(t.scene, t.point, t.place),
  "gates.expired": (t) => gates.expired(t.scene, t.point, t.place, t.act),
  "gates.forbidden": (t) => gates.forbidden(t.scene, t.step, t.place),
  "gates.gate_refusals": (t) => gates.gateRefusals(t.scene, t.step, t.act),
  "gates.passed": (t) => gates.passed(t.scene, t.point),
  "gates.waived": (t) => gates.waived(t.scene, t.point),
  "gates.used": (t) => gates.used(t.scene, t.point),
  "heard.last_heard": lastHeardOut,
  "heard.unheard": (t) => unheard(t.scene, t.point, t.given.needs),
  "history.read_history": historyOut,
  "items.item_failures": (t) => itemFailures(t.scene, t.step, t.line),
  "items.named_twice": (t) => namedTwice(t.scene, t.step).map(
    ({ item, field, lines, places }) =>
      ({ item, field, lines, places: places.map((place) => t.label(place)) })),
  "items.looked_at": (t) =>
    lookedAt(t.scene, t.step.fields.get("jack"), t.place),
  "items.ran_out": (t) => ranOut(t.scene, t.step),
  "items.out_untimed": (t) => outUntimed(t.scene, t.step),
  "items.relied_on_corrected": (t) =>
    reliedOnCorrected(t.scene).map((each) => ({ ...each, line: each.line.id })),
  "items.find_item": (t) => plain(findItem(t.scene, t.given.name)),
  "lasting.said_to_stay": (t) => saidToStay(t.scene, t.step, t.line)
    .map(([field, place, value]) => [field, t.label(place), value]),
  "lasting.taken_back": (t) => takenBack(t.scene, t.step, t.line)
    .map(([field, place]) => [field, t.label(place)]),
  "lives.clock_lines": (t) => lives.clockLines(t.scene, t.clock),
  "lives.run_clock": (t) => runOut(t),
  "lives.clock_runs": (t) =>
    lives.clockRuns(t.scene, t.clock, "").map((run) => runOut(t, run)),
  "lives.ratios_of": (t) => lives.ratiosOf(t.scene, t.clock).map(({ id }) => id),
  "lives.clock_end": (t) =>
    plain(lives.clockEnd(t.scene, t.clock, t.given.line ?? "")?.at),
  "lives.deadline_ms": (t) => lives.deadlineMs(t.run, t.ratio),
  "lives.kept": (t) => lives.kept(t.run, t.ratio),
  "lives.life_used": (t) =>
    shownRatio(lives.lifeUsed(t.scene, t.clock, "", t.given.ref)),
  "outlasting.outlasting": (t) => outlasting(t.scene),
  "pace.guessed": (t) => guessed(t.scene, t.clock),
  "pace.remaining_ms": (t) => plain(remainingMs(t.scene, t.clock)),
  "pace.sure_ms": (t) => sureMs(t.scene, t.clock),
  "pace.line_ms": (t) => lineMs(t.scene, t.step),
  "points.point_state": (t) => pointState(t.scene, t.point),
  "readiness.unmet": (t) => unmet(t.scene, t.point),
  "readiness.waiting": (t) => waiting(t.scene, t.step.holds, t.act),
  "readiness.kind_of": (t) => kindOf(t.scene, t.given.name),
  "readiness.stop_in_force": (t) => t.label(stopInForce(t.scene)),
  "rules.release_refusals": (t) =>
    releaseRefusals(t.scene, t.given.point, t.given.person),
  "rules.relied_on": (t) => reliedOn(t.scene, t.given.point),
  "signers.signer_refusals": (t) =>
    signers.signerRefusals(t.scene, t.point, t.given.person),
  "signers.releaser": (t) => signers.releaser(t.entry),
  "signers.refuses": (t) => signers.refuses(t.scene, t.point, t.place),
  "signers.given_by": (t) =>
    signers.givenBy(t.scene, t.point, t.given.wanted, t.place),
  "signers.calls_in_force": (t) =>
    labels(t, signers.callsInForce(t.scene, t.point)),
  "signers.may_sign": (t) =>
    signers.maySign(t.scene, t.point, t.given.wanted, t.given.person),
  "signers.workers": (t) => [...signers.workers(t.scene, t.point)].sort(),
  "signers.on_point": (t) => labels(t, signers.onPoint(t.scene, t.point, t.given.kind)),
  "signers.without_release": (t) => signers.withoutRelease(t.scene, t.point, t.act),
  "signers.notice_left_ms": (t) =>
    plain(signers.noticeLeftMs(t.scene, t.point, t.act)),
  "steps.step_state": stepOut,
  "steps.is_off": (t) => steps.isOff(t.scene, t.step),
  "steps.line_state": lineOut,
  "steps.unsettled": unsettledOut,
  "steps.photos_of": (t) => steps.photosOf(t.scene, t.line),
  "steps.raises_of": (t) => steps.raisesOf(t.step, t.given.failed),
  "steps.fails": (t) => steps.fails(t.scene,
    t.step.checks.find((each) => each.id === t.given.check), t.given.place),
  "verdict.all_faults": (t) =>
    sorted(allFaults(t.scene)).map(({ id, ...rest }) => rest),
  "verdict.verdict": (t) => verdict(t.scene, allFaults(t.scene)),
  "view.may_dispose": (t) => mayDispose(t.scene.view, t.place),
  "view.strictest": (t) =>
    t.label(strictest(t.scene.view, t.given.entries.map((each) => t.placeOf(each)))),
};
