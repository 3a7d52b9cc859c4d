// The clocks of a sheet in a scene: how much life is used, and the deadlines. The
// earliest start wins: with several possible starts the one that leaves least time
// counts, so no later batch, correction or second phone moves a clock later.

import { spansBehind } from "./ahead.js";
import { boundOf, elapsedMs, OVER_MS, runLife } from "./clocks.js";
import { compare } from "./numbers.js";
import { own } from "./own.js";
import { byRoot } from "./scene.js";
import { takenOff } from "./unused.js";

/** Give the lines that have a clock of their own, or one empty name for all. */
export function clockLines(scene, clock) {
  return clock.per_line ? [...scene.lines(clock.start).keys()] : [""];
}

/**
 * Run a clock in a scene: the start that leaves least; undefined before any start. It
 * runs to `end` if given, else to what ends the clock, else to the scene's now.
 * @returns {{start:number|undefined, moment:object, life:object, runMs:number,
 *   ended:boolean, used:[bigint, bigint]}|undefined} no `start` where another
 *   subject's doing started it
 */
export function runClock(scene, clock, line, end) {
  if (clock.other || clock.renewed) return clockRuns(scene, clock, line, end).at(-1);
  if (end !== undefined) return worstRun(scene, clock, line, end);
  const key = `clock|${clock.id}|${line}`;
  if (!scene.memo.has(key)) {
    const finish = clockEnd(scene, clock, line);
    scene.memo.set(key, runTo(scene, clock, line, finish));
  }
  return scene.memo.get(key);
}

/**
 * Give every run of a clock: one, or one for each time another was ahead. A clock that
 * is renewed has one for each reading of its start, up to the next.
 */
export function clockRuns(scene, clock, line, end) {
  if (clock.renewed) return renewed(scene, clock, end);
  if (!clock.other) {
    const run = runClock(scene, clock, line, end);
    return run ? [run] : [];
  }
  return spansBehind(scene, clock).map(([since, until]) => {
    const moment = { at: since };
    const ended = until !== undefined;
    const finish = ended ? { at: until } : end ?? scene.at;
    return plainRun(scene, clock, { moment, ended }, elapsedMs(moment, finish, true));
  });
}

// From each reading of the start to the next; none runs beyond the end. In the order of
// the times: one copied from paper lies before what was signed first.
function renewed(scene, clock, end) {
  const finish = end ?? clockEnd(scene, clock, "");
  const wall = ({ moment }) => boundOf(moment, 0)?.at ?? 0;
  const starts = byRoot(scene.lines(clock.start)).filter((line) => !line.discarded)
    .map((line) => ({ start: line.root, moment: scene.view.moment(line) }))
    .sort((a, b) => wall(a) - wall(b));
  return starts.map(({ start, moment }, place) => {
    const next = starts.slice(place + 1, place + 2).map((each) => each.moment);
    const ends = [...next, ...(finish ? [finish] : [])];
    const runs = (ends.length ? ends : [scene.at])
      .map((each) => elapsedMs(moment, each, true));
    const ended = ends.length > 0;
    return plainRun(scene, clock, { start, moment, ended }, Math.min(...runs));
  });
}

// A run by time alone, of which no reading changes the pace.
function plainRun(scene, clock, parts, ms) {
  const life = runLife(scene.view.sheet.tables.get(clock.table), [], clock.age_ms);
  const runMs = Math.max(ms, 0);
  return { ...parts, life, runMs, used: life.used(runMs) };
}

/**
 * Give the ratios of a clock that count: all but those known not to be called for.
 * What is not known yet is called for: nobody gains time by not having read.
 */
export function ratiosOf(scene, clock) {
  return clock.ratios.filter((each) => each.when === undefined
    || scene.view.sheet.ratioTests.get(each)(scene, "") !== false);
}

// Run a clock once for all scenes that read the same lines up to its end.
function runTo(scene, clock, line, finish) {
  if (scene.changed || !finish) return worstRun(scene, clock, line, finish);
  const known = [finish, ...finish.between ?? []].flatMap((each) =>
    [each?.at, each?.session, each?.mono, each?.offset, each?.unknown]);
  const key = [clock.id, line, ...known,
    ...sources(scene, [clock.start]), ...sources(scene, stepsOf(clock))].join("|");
  const memo = scene.case.runs;
  if (!memo.has(key)) memo.set(key, worstRun(scene, clock, line, finish));
  return memo.get(key);
}

function stepsOf(clock) {
  return clock.temps.map((each) => each.step);
}

function sources(scene, steps) {
  return steps.map((step) => scene.view.source(step));
}

function worstRun(scene, clock, line, finish) {
  const starts = startsOf(scene, clock, line);
  const temps = temperatures(scene, clock, line);
  let worst;
  for (const start of earliest(scene, starts)) {
    const run = runFrom(scene, clock, start, temps, finish);
    const order = worst ? compare(run.used, worst.used) : 1;
    if (order > 0 || (order === 0 && run.runMs > worst.runMs)) worst = run;
  }
  return worst;
}

/**
 * Give the moment a clock's end was reached: a milestone, or a step's line. A batch's
 * own clock also ends when the batch is discarded; any, when it is taken off again.
 */
export function clockEnd(scene, clock, line) {
  const { until } = clock;
  const began = clock.per_line ? scene.lines(clock.start).get(line) : undefined;
  if (began?.discarded) {
    const [first] = scene.view.discardsOf(clock.start, began.root);
    return scene.view.history.moments[first];
  }
  const ref = { step: until, pick: "first", ...(clock.per_line ? { line } : {}) };
  const isReached = scene.view.sheet.milestones.has(until);
  return scene.moment(isReached ? { milestone: until } : ref)
    ?? takenOff(scene, clock, line);
}

/** Give when a ratio of the clock is used up, ms after its start. */
export function deadlineMs(run, ratio) {
  return Math.min(run.life.deadlineMs(ratio.num, ratio.den), ratio.cap_ms ?? OVER_MS);
}

/** Say whether the clock has run within a ratio (its limit included). */
export function kept(run, ratio) {
  const within = compare(run.used, [BigInt(ratio.num), BigInt(ratio.den)]) <= 0;
  return within && run.runMs <= (ratio.cap_ms ?? OVER_MS);
}

/** Give the share of a clock's life used at a reference; undefined before its start. */
export function lifeUsed(scene, clock, line, end) {
  const moment = scene.moment(end);
  return moment && runClock(scene, clock, line, moment)?.used;
}

function startsOf(scene, clock, line) {
  const lines = scene.lines(clock.start);
  if (!clock.per_line) return lines;
  return new Map([...lines].filter(([name]) => name === line));
}

// Leave out starts that cannot be the earliest: later on the same device.
function earliest(scene, starts) {
  const keptLines = [];
  for (const line of byRoot(starts)) {
    const moment = scene.view.moment(line);
    const later = keptLines.some((each) =>
      surelyLater(scene.view.moment(each), moment));
    if (!later) keptLines.push(line);
  }
  return keptLines;
}

function surelyLater(first, other) {
  const known = !other.unknown || other.between !== undefined;
  const same = first.session === other.session && known;
  return same && elapsedMs(first, other, false) >= 0;
}

function runFrom(scene, clock, start, temps, finish) {
  const { history, sheet } = scene.view;
  const moment = scene.view.moment(start);
  const runMs = Math.max(elapsedMs(moment, finish ?? scene.at, true), 0);
  const seen = (place) => history.saw(start.root, place);
  const knots = [
    ...knotsBefore(moment, temps, seen), ...knotsAfter(moment, temps, seen, runMs),
  ];
  const life = runLife(sheet.tables.get(clock.table), knots, clock.age_ms,
    sheet.amended >= 2);
  const ended = finish !== undefined;
  return { start: start.root, moment, life, runMs, ended, used: life.used(runMs) };
}

// The last reading the start had in its past, by order: it stands before.
function knotsBefore(start, temps, seen) {
  const last = temps.byPlace.findLast(({ place }) => seen(place));
  if (!last) return [];
  const { read, temp } = last;
  return [{ afterMs: -Math.max(elapsedMs(read, start, true), 0), temp }];
}

// The other readings up to the clock's end, by use-by time from its start. Use-by time
// is never less than the wall's, so later walls need no look.
function knotsAfter(start, temps, seen, runMs) {
  const latest = start.unknown ? Infinity : start.at + runMs;
  const knots = [];
  for (const { wall, place, read, temp } of temps.byWall) {
    if (wall > latest) break;
    if (seen(place)) continue;
    const afterMs = Math.max(elapsedMs(start, read, true), 0);
    if (afterMs <= runMs) knots.push({ afterMs, place, temp });
  }
  return knots.sort((one, other) =>
    one.afterMs - other.afterMs || one.place - other.place);
}

// The temperature readings that drive a clock: place, moment, hottest; by place and by
// wall (unknown times first). Scenes and clocks that read the same lines share them.
function temperatures(scene, clock, line) {
  const ownLine = clock.temps.some((source) => source.step === clock.start);
  const alone = scene.changed || ownLine;
  const memo = alone ? scene.memo : scene.case.runs;
  const key = alone ? `temps|${clock.id}|${line}`
    : ["temps", ...sources(scene, stepsOf(clock)),
      ...clock.temps.map((each) => each.field)].join("|");
  if (!memo.has(key)) memo.set(key, readTemperatures(scene, clock, line));
  return memo.get(key);
}

function readTemperatures(scene, clock, line) {
  const found = new Map();
  for (const source of clock.temps) {
    const owned = clock.per_line && source.step === clock.start;
    for (const [name, each] of scene.lines(source.step)) {
      const value = own(each.values, source.field);
      const counts = typeof value === "number" && !each.disputed;
      if (!counts || (owned && name !== line)) continue;
      const temp = BigInt(value);
      const place = each.root;
      const before = found.get(place)?.temp ?? temp;
      const read = scene.view.moment(each);
      const wall = read.unknown ? 0 : read.at;
      found.set(place, { wall, place, read, temp: temp > before ? temp : before });
    }
  }
  const byPlace = [...found.values()].sort((one, other) => one.place - other.place);
  return { byPlace, byWall: [...byPlace].sort((one, other) => one.wall - other.wall) };
}
