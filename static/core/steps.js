// The state of a step in a scene: what is read, missing, failed, or disputed. A reading
// that a `block` check refuses fails the step until it is read again or, once others
// have built on it, until a disposition accepts it. A `nonconformance` check never
// stops recording: it shuts a gate instead.

import { accepted, GATE, readingFaultId, stepFaultId } from "./dispositions.js";
import { isEarly, isSettled } from "./early.js";
import { itemFailures, namedTwice, TWICE } from "./items.js";
import { BACK, takenBack } from "./lasting.js";
import { ceiling } from "./numbers.js";
import { own } from "./own.js";

/** More lines than this are told as so many: a count must be written exactly. */
export const MOST_MISSING = 10_000;

const OPEN = Object.freeze({
  status: "open", lines: new Map(), missing: 0, failed: [], cautions: [], twice: [],
});
const NOTHING = Object.freeze({ failed: [], cautions: [] });

/**
 * Work out how a step stands in a scene, once.
 * @returns {{status:string, lines:Map<string, object>, missing:number,
 *   failed:string[], cautions:string[], twice:object[]}} `twice`: items named at two
 *   places at once; status off, open, partial, failed, disputed
 *   or done
 */
export function stepState(scene, step) {
  return scene.once(`step|${step.id}`, OPEN, () => workOut(scene, step));
}

/** Say whether a step does not exist in this scene (a route not called for). */
export function isOff(scene, step) {
  if (step.again && scene.view.attemptOf(step.id) === undefined) {
    // What takes off again what was put on may be done before anybody orders it.
    return !(step.takesOff.length > 0 && scene.lines(step.id).size > 0);
  }
  return step.when !== undefined && step.when(scene, "") !== true;
}

/**
 * Work out how one line stands in a scene, once.
 * @returns {{line:object, status:string, failed:string[], cautions:string[]}} status
 *   ok, failed, partial, disputed, anyway or discarded
 */
export function lineState(scene, step, line) {
  const known = line.plain ? scene.case.plain.get(line.root) : undefined;
  if (known) return known;
  const key = `line|${step.id}|${line.id}`;
  let state = scene.memo.get(key);
  if (!state) {
    state = workOutLine(scene, step, line);
    scene.memo.set(key, state);
  }
  return state;
}

/** Say whether a check is known to fail (unknown is not failing). */
export function fails(scene, check, place) {
  return check.must(scene, place) === false;
}

/** Give how many photos the readings and corrections of a line carry. */
export function photosOf(scene, line) {
  const { history } = scene.view;
  return new Set(line.asserted.flatMap((place) => history.entry(place).photos)).size;
}

/**
 * Say what a failure of a line raises: block or nonconformance. An unfit item blocks
 * before a gate and is a nonconformance in the race.
 */
export function raisesOf(step, failed) {
  const check = step.checks.find((each) => each.id === failed);
  if (check) return check.raises;
  return step.raced ? "nonconformance" : "block";
}

/** Say what a failure raises of this very line: before the race it only blocks. */
export function lineRaises(scene, step, line, failed) {
  const check = step.checks.find((each) => each.id === failed);
  return check && isEarly(scene, check, line) ? "block" : raisesOf(step, failed);
}

/**
 * Give the lines of a step with something left to decide; settle the others. What was
 * read once, asks no other line, passed no gate and fails no check stands alike in
 * every scene that has it.
 * @param {Map<string, object>} read @returns {object[]}
 */
export function unsettled(scene, step, read) {
  const { plain } = scene.case;
  const left = [...read.values()].filter((e) => !(e.plain && plain.has(e.root)));
  const watched = step.judged || scene.view.history.watches(step.id);
  if (watched || !step.onlyLines) return left;
  return left.filter((line) => !settle(scene, step, line));
}

// Decide a line by itself, if it may be; say whether it was.
function settle(scene, step, line) {
  if (!line.plain) return false;
  const place = `${step.id}/${line.id}`;
  if (step.lineChecks.some((check) => fails(scene, check, place))) return false;
  if (step.items.length > 0 && itemFailures(scene, step, line).length > 0) return false;
  const status = lineStatus(scene, step, line, NOTHING.failed, false);
  keep(scene, step, line, { line, status, ...NOTHING });
  return true;
}

function keep(scene, step, line, state) {
  scene.case.plain.set(line.root, state);
  if (step.series) scene.case.quiet.add(line.root);
}

function workOutLine(scene, step, line) {
  let { failed, cautions } = NOTHING;
  if (step.lineChecks.length > 0) {
    ({ failed, cautions } = failing(scene, step.lineChecks, `${step.id}/${line.id}`));
  }
  if (step.items.length > 0) failed = [...failed, ...itemFailures(scene, step, line)];
  if (!line.plain) {
    const back = takenBack(scene, step, line).map(([field]) => `${BACK}:${field}`);
    failed = [...failed, ...new Set(back)];
  }
  const watched = step.judged || scene.view.history.watches(step.id);
  const forbidden = watched && scene.case.forbidden(step, line.root).length > 0;
  const status = lineStatus(scene, step, line, failed, forbidden);
  const state = { line, status, failed, cautions };
  if (line.plain && step.onlyLines && failed.length === 0 && !forbidden) {
    // Nothing is left to decide: it stands alike in every scene that has it.
    keep(scene, step, line, state);
  }
  return state;
}

function workOut(scene, step) {
  const read = scene.lines(step.id);
  const lines = new Map();
  unsettled(scene, step, read);
  for (const [name, line] of read) lines.set(name, lineState(scene, step, line));
  const missing = missingOf(scene, step, lines);
  const { failed: checked, cautions } = failing(scene, step.stepChecks, "");
  const twice = namedTwice(scene, step);
  const fields = twice.map(({ field }) => `${TWICE}:${field}`);
  const failed = [...checked, ...new Set(fields)];
  const told = [...checked, ...twice.map((one) => one.check)];
  const status = statusOf(scene, step, lines, missing, told);
  return { status, lines, missing, failed, twice,
    cautions: read.size > 0 ? cautions : [] };
}

function statusOf(scene, step, lines, missing, failed) {
  if (lines.size === 0) {
    if (isOff(scene, step)) return "off";
    return missing ? "open" : "done";
  }
  let states = new Set();
  let last;
  for (const { status } of lines.values()) states.add(last = status);
  if (step.series) states = new Set([last]);
  if (states.has("disputed")) return "disputed";
  if (states.has("failed") || states.has("anyway")
    || blocking(scene, step, failed)) return "failed";
  return missing || states.has("partial") ? "partial" : "done";
}

function blocking(scene, step, failed) {
  return failed.some((check) => raisesOf(step, check) === "block"
    && !accepted(scene, stepFaultId(scene, step.id, check)));
}

function lineStatus(scene, step, line, failed, forbidden) {
  if (line.discarded) return "discarded";
  if (line.disputed) return "disputed";
  if (forbidden && undecided(scene, GATE, line.root)) return "anyway";
  if (failed.some((check) => failsStep(scene, step, line, check))) return "failed";
  const missing = (name) => own(line.values, name) === undefined;
  if (step.neededFields.some(missing)) return "partial";
  return step.photos && photosOf(scene, line) < step.photos ? "partial" : "ok";
}

function failsStep(scene, step, line, failed) {
  if (lineRaises(scene, step, line, failed) !== "block") return false;
  const check = step.checks.find((each) => each.id === failed);
  if (check && check.raises !== "block" && isSettled(scene, check, line)) return false;
  return undecided(scene, failed, line.current);
}

function undecided(scene, check, place) {
  const entry = scene.view.history.entry(place);
  return !accepted(scene, readingFaultId(check, entry.id));
}

function missingOf(scene, step, lines) {
  const read = new Set();
  for (const [name, line] of lines) if (line.status !== "discarded") read.add(name);
  if (step.least !== undefined) {
    const least = step.least(scene, "");
    if (least === undefined || least[1] === 0n) return 1;
    const wanted = Number(ceiling(least)) - read.size;
    return Math.min(Math.max(wanted, 0), MOST_MISSING);
  }
  if (step.lines.length > 0) {
    return step.neededLines.filter((name) => !read.has(name)).length;
  }
  return read.size > 0 ? 0 : 1;
}

// The checks known to fail, and apart from them the cautions.
function failing(scene, checks, place) {
  const [failed, cautions] = [[], []];
  for (const check of checks) {
    if (!fails(scene, check, place)) continue;
    (check.raises === "caution" ? cautions : failed).push(check.id);
  }
  return { failed, cautions };
}
