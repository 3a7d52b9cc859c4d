// When a running clock's end is to be expected, at this gang's own pace. What is left
// to record times the time a line takes. A pace is measured between acts: what is noted
// within a quarter of a line's typical time is one act, and the lines of the first are
// not counted, for nobody knows when they began. Until several acts are there the
// slower counts: this joint's own, or the gang's from finished joints (before there are
// any, the plan's typical time). Nothing here may look better than it is.

import { own } from "./own.js";
import { stepState } from "./steps.js";

/** What is noted within this part of a line's typical time was noted together. */
const ONE_ACT = 4;
/** So many acts after the first, and a joint's own pace stands by itself. */
const ACTS_ENOUGH = 3;

/**
 * Measure a pace by when lines were noted, ms; undefined where all were one act.
 * @param {number[]} times @param {number} typicalMs
 * @returns {{lineMs:number, acts:number}|undefined} `acts` after the first
 */
export function measured(times, typicalMs) {
  const ordered = [...times].sort((one, other) => one - other);
  const apart = [...ordered.keys()].filter((place) => place > 0
    && (ordered[place] - ordered[place - 1]) * ONE_ACT >= typicalMs);
  if (apart.length === 0) return undefined;
  const lines = ordered.length - apart[0];
  const span = ordered.at(-1) - ordered[0];
  // Rounded up before it is divided: exact at any size.
  const lineMs = (span + (lines - (span % lines)) % lines) / lines;
  return { lineMs, acts: apart.length };
}

/** Give the time still needed to a clock's milestone, ms; undefined without a pace. */
export function remainingMs(scene, clock) {
  if (!scene.view.sheet.milestones.has(clock.until)) return undefined;
  return remaining(scene, clock).reduce((total, [step, missing]) =>
    total + missing * lineMs(scene, step), 0);
}

/** Say whether that time rests on the plan's typical one: nobody's own pace. */
export function guessed(scene, clock) {
  return scene.view.sheet.milestones.has(clock.until)
    && remaining(scene, clock).some(([step]) =>
      knownMs(scene, step) !== lineMs(scene, step));
}

/**
 * Give the part of that time that somebody's own pace says, ms: it needs at least.
 * Where it alone takes too long, nothing is left to guess.
 */
export function sureMs(scene, clock) {
  if (!scene.view.sheet.milestones.has(clock.until)) return 0;
  return remaining(scene, clock).reduce((total, [step, missing]) =>
    total + missing * (knownMs(scene, step) ?? 0), 0);
}

/** Give the time one line of a step takes, ms: the slower of what may be so. */
export function lineMs(scene, step) {
  const typical = step.raw.typical_ms;
  const known = knownMs(scene, step);
  if (known === undefined) return typical;
  const stands = ofGang(scene, step) || ofJoint(scene, step).acts >= ACTS_ENOUGH;
  return stands ? known : Math.max(known, typical);
}

// The steps up to a clock's milestone that take time, each with its lines missing.
function remaining(scene, clock) {
  const { sheet } = scene.view;
  const first = sheet.flow.get(clock.start);
  const last = sheet.flow.get(sheet.milestones.get(clock.until).step);
  const found = [];
  for (const step of sheet.steps.values()) {
    const place = sheet.flow.get(step.id);
    if (place < first || place > last) continue;
    const { status, missing } = stepState(scene, step);
    if (status !== "off" && missing && step.raw.typical_ms !== undefined) {
      found.push([step, missing]);
    }
  }
  return found;
}

// The time a line takes by somebody's own pace; undefined: nobody's.
function knownMs(scene, step) {
  const [mine, gang] = [ofJoint(scene, step), ofGang(scene, step)];
  if (!mine) return gang;
  if (!gang || mine.acts >= ACTS_ENOUGH) return mine.lineMs;
  return Math.max(mine.lineMs, gang);
}

function ofGang(scene, step) {
  const { sheet, standing } = scene.view;
  return own(own(standing.pace, sheet.raw.kind), step.id) || undefined;
}

// Sheets from before this was amended took any two lines for a pace.
function ofJoint(scene, step) {
  const lines = [...scene.lines(step.id).values()];
  if (scene.view.sheet.amended >= 2) {
    return measured(timesOf(scene, lines), step.raw.typical_ms);
  }
  const times = lines.map((line) => scene.view.moment(line).at);
  const span = Math.max(...times) - Math.min(...times);
  if (times.length < 2 || span === 0) return undefined;
  return { lineMs: Math.floor(span / (times.length - 1)), acts: ACTS_ENOUGH };
}

// When lines were noted, by the office's clock where all had heard it.
function timesOf(scene, lines) {
  const known = lines.filter((line) => !line.discarded)
    .map((line) => scene.view.moment(line)).filter(({ unknown }) => !unknown);
  const heard = known.every(({ offset }) => offset !== undefined);
  return known.map(({ at, offset }) => (heard ? at + offset : at));
}
