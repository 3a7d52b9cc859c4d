// From entries to state: pure, total, the same bytes in Python and JavaScript. `fold`
// takes everything as arguments and changes nothing. The state is plain data (maps,
// lists, whole numbers, text) that screens, queues, pictures and paper read.

import { overAt } from "./bounds.js";
import { Folding } from "./case.js";
import { boundMs, elapsedMs, momentNow } from "./clocks.js";
import { flags } from "./flags.js";
import { gateRefusals } from "./gates.js";
import { readHistory } from "./history.js";
import { clockLines, deadlineMs, kept, ratiosOf, runClock } from "./lives.js";
import { rounded } from "./numbers.js";
import { outlasting } from "./outlasting.js";
import { guessed, remainingMs, sureMs } from "./pace.js";
import { pointState } from "./points.js";
import { reachedBy, stopInForce } from "./readiness.js";
import { refusal } from "./refusals.js";
import { isOff, stepState } from "./steps.js";
import { stops } from "./stops.js";
import { takenOff, thrownAway } from "./unused.js";
import { allFaults, verdict } from "./verdict.js";

/**
 * Fold a subject's entries into its state.
 * @param {object} sheet prepared
 * @param {Iterable<object>} entries any order, repeats allowed, other subjects ignored
 * @param {object} standing `people`, `subjects`, `items`
 * @param {object} now `at` in ms UTC, and where known `device`, `session`, `mono`,
 *   `offset`
 * @returns {object} the state; unknown kinds are kept and flagged
 */
export function fold(sheet, entries, standing, now) {
  return stateOf(present(sheet, entries, standing, now));
}

/** Give the scene of everything known, now: what rules are asked of. */
export function present(sheet, entries, standing, now) {
  const history = readHistory(sheet, entries);
  const folding = new Folding(sheet, history, standing);
  return folding.scene(history.graph.everything, momentNow(now));
}

/** Lay a scene out as plain data. */
export function stateOf(scene) {
  const { sheet, history } = scene.view;
  const faults = allFaults(scene);
  const state = {
    subject: sheet.subject,
    sheet: sheet.hash,
    attempts: scene.view.attempts().length,
    heads: history.graph.heads,
    missing: history.graph.missing,
    steps: mapped(sheet.steps, (step) => stepOut(scene, step)),
    points: mapped(sheet.points, (point) => pointState(scene, point)),
    milestones: milestonesOut(scene),
    clocks: clocksOut(scene),
    holds: holdsOut(scene),
    nonconformances: faults,
    flags: flags(scene),
    values: shown(scene, sheet.values, ""),
    verdict: verdict(scene, faults),
  };
  const [attempt] = scene.view.attempts().at(-1);
  if (attempt !== undefined) state.attempt = attempt;
  const left = outlasting(scene);
  if (left.length > 0) state.outlasting = left;
  // Of sheets from before this was amended nobody asked.
  const pulled = sheet.amended >= 2 ? stops(scene) : [];
  if (pulled.length > 0) state.stops = pulled;
  const stop = stopInForce(scene);
  if (stop !== undefined) {
    const { id, about, at } = history.entry(stop);
    state.stopped = { entry: id, reason: about.reason, at };
  }
  return state;
}

/** Give why a step cannot be recorded as done now; raced steps always can. */
export function recordRefusals(scene, step) {
  if (step.first && scene.lines(step.id).size > 0
    && !takenOff(scene, { start: step.id }, "")) return [];
  const found = gateRefusals(scene, step, scene.at);
  if (!step.gated) return found;
  return [...found, ...step.needs.filter((name) => !reachedBy(scene, name))
    .map((name) => refusal("not_reached", { name }))];
}

function mapped(map, make) {
  return Object.fromEntries([...map].map(([id, each]) => [id, make(each)]));
}

function stepOut(scene, step) {
  const found = stepState(scene, step);
  const refusals = recordRefusals(scene, step);
  const closed = found.status === "open" && refusals.length > 0;
  const twice = found.twice.map(({ item, field, lines }) =>
    ({ item, field, lines: lines.join() }));
  return {
    ...(twice.length > 0 && { twice }),
    status: closed ? "closed" : found.status,
    refusals,
    missing: found.missing,
    failed: found.failed,
    cautions: found.cautions,
    lines: linesOut(scene, step, found.lines),
    shows: found.lines.size > 0 ? shown(scene, step.stepShows, "") : {},
  };
}

// In one loop, as a joint has hundreds.
function linesOut(scene, step, lines) {
  const { view } = scene;
  const { entries } = view.history.graph;
  const found = {};
  for (const [id, { line, status, failed, cautions }] of lines) {
    const root = entries[line.root];
    found[id] = {
      entry: entries[line.current].id,
      at: boundMs(view.moment(line), 0),
      person: root.person,
      values: line.values,
      status,
      failed,
      cautions,
      entries: line.plain ? [root.id] : line.asserted.map((place) => entries[place].id),
      shows: shown(scene, step.lineShows, `${step.id}/${line.id}`),
    };
  }
  return found;
}

// Round computed figures for display; leave out what is missing or too large.
function shown(scene, shows, line) {
  const found = {};
  for (const [name, body] of shows) {
    const value = body(scene, line);
    const whole = !value || value[1] === 0n ? undefined : rounded(value);
    if (whole !== undefined) found[name] = whole;
  }
  return found;
}

function milestonesOut(scene) {
  const { history, sheet } = scene.view;
  const found = {};
  for (const name of sheet.milestones.keys()) {
    const place = scene.case.milestone(scene, name);
    if (place === undefined) continue;
    const at = boundMs(history.moments[place], 0);
    found[name] = { entry: history.entry(place).id, at };
  }
  return found;
}

function clocksOut(scene) {
  const found = {};
  for (const [id, clock] of scene.view.sheet.clocks) {
    for (const line of clockLines(scene, clock)) {
      const run = runClock(scene, clock, line);
      if (run) found[line ? `${id}/${line}` : id] = clockOut(scene, clock, line, run);
    }
  }
  return found;
}

function clockOut(scene, clock, line, run) {
  const ratios = ratiosOf(scene, clock);
  const watched = ratios.filter((each) => each.raises);
  const within = watched.every((each) => kept(run, each))
    || thrownAway(scene, clock, line);
  const [top, bottom] = run.used;
  const start = boundMs(run.moment, 0);
  const ends = ratios.map((each) => [each.id, deadlineMs(run, each)]);
  const state = {
    status: within ? (run.ended ? "met" : "running") : "over",
    ended: run.ended ? 1 : 0,
    start,
    run_ms: run.runMs,
    used_ppm: rounded([1_000_000n * top, bottom]) ?? 0,
    deadlines: Object.fromEntries(ends.map(([id, end]) => [id, start + end])),
    left: Object.fromEntries(ends.map(([id, end]) => [id, end - run.runMs])),
  };
  if (run.life.alarm !== undefined) state.alarm = run.life.alarm;
  const left = run.ended ? undefined : remainingMs(scene, clock);
  if (left !== undefined) state.expected = scene.at.at + left;
  if (left !== undefined && guessed(scene, clock)) {
    state.guessed = 1;
    state.surely = scene.at.at + sureMs(scene, clock);
  }
  return state;
}

function holdsOut(scene) {
  const found = {};
  for (const hold of scene.view.sheet.raw.holds ?? []) {
    if (isOff(scene, scene.view.sheet.steps.get(hold.after))) continue;
    const began = scene.moment({ step: hold.after });
    if (!began) continue;
    const left = hold.ms - elapsedMs(began, scene.at, false);
    const until = overAt(began, scene.at, hold.ms);
    found[hold.id] = until === undefined ? { status: "untimed" }
      : { until, status: left > 0 ? "running" : "over" };
  }
  return found;
}
