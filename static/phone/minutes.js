// Minutes in hand: what the clocks of a sheet leave, read from the state. Pure: the
// moment comes in as an argument. It advises; gates and nonconformances are the rules'.

import { timeDecided } from "./decided.js";
import { hasBegun, isSpare, isTooLate, nextLine } from "./turns.js";

const READ_AHEAD_MS = 3 * 60_000;
/** A deadline further off than a shift makes no race of what is done today. */
const SLOW_MS = 12 * 3_600_000;

/**
 * @param {{sheet:object, state:object, asOf:number}} open sheet, its state, and the
 *   moment it was folded for @param {number} now ms UTC
 * @returns {{running:boolean, over:boolean, start?:number, startTitle?:string,
 *   expected?:number, guessed?:boolean, untilTitle?:string, deadlines:object[],
 *   chalk?:object, inHandMs?:number, lines:object[]}} `lines` are clocks per line,
 *   `ahead` says of each other arm whether it is known to be ahead, and until when;
 *   `slow` that no deadline comes today
 */
export function minutesInHand({ sheet, state, asOf }, now) {
  const main = mainClock({ sheet, state, asOf }, now);
  const lines = lineClocks(sheet, state, asOf);
  const ahead = aheadClocks(sheet, state, asOf);
  if (!main) return { running: false, over: false, deadlines: [], lines, ahead };
  const deadlines = deadlinesOf(main.clock, main.found, asOf);
  const expected = movedOn(main.found.expected, asOf, now);
  const last = nextOf(deadlines, now);
  const isSlow = last !== undefined && last.at - now > SLOW_MS;
  const batch = isSlow ? soonest({ sheet, state }, lines, now) : undefined;
  const chalk = batch ?? last;
  return {
    running: true,
    slow: isSlow && !batch,
    over: main.found.status === "over",
    start: main.found.start,
    startStep: main.clock.start,
    startTitle: sheet.steps[main.clock.start]?.title,
    expected,
    // Where what was timed takes too long by itself, too late is no guess.
    guessed: main.found.guessed === 1
      && !(chalk?.at < movedOn(main.found.surely, asOf, now)),
    untilTitle: titleOf(sheet, main.clock.until),
    deadlines,
    chalk,
    inHandMs: chalk && !batch && expected !== undefined ? chalk.at - expected
      : undefined,
    lines,
    ahead,
  };
}

// Where a tendon's days run, the batch in the mixer is what is chalked up.
function soonest(open, lines, now) {
  const running = lines.filter(({ deadline, line }) => deadline
    && !(deadline.at <= now && timeDecided(open, deadline, line))).sort((a, b) =>
    a.deadline.at - b.deadline.at)[0];
  return running && { ...running.deadline, line: running.line, step: running.step };
}

/** The title of a step, point or milestone of the sheet. @returns {string} */
export function titleOf(sheet, id) {
  const milestone = (sheet.milestones ?? []).find((one) => one.id === id);
  return milestone?.title ?? sheet.steps[id]?.title ?? sheet.points[id]?.title ?? id;
}

/**
 * What the race asks for next: a temperature about to grow too old, then the first
 * open line of each raced step, in the order of the flow (what it has gone past is
 * never first), then photos still missing, at last what is only a spare. What has not
 * begun (a kit not mixed yet), or was lost (a broken bar), is offered only if nothing
 * else is.
 * @returns {{step:string, line:string, photo?:boolean}[]}
 */
export function nextActs(open, now, count = 2) {
  const { sheet, state } = open;
  const stale = staleReadings(open, now);
  const raced = sheet.flow.filter((id) => sheet.steps[id]?.class === "raced"
    && isOpen(state, id) && !isTooLate(sheet, state, id, now)
    && !stale.some((act) => act.step === id));
  const left = raced.map((step) => ({ step, line: nextLine(sheet, state, step) }))
    .filter(({ line }) => line !== null);
  const begun = left.filter(({ step, line }) => hasBegun(sheet, state, step, line));
  const spare = begun.filter((act) => isSpare(sheet, state, act));
  const photos = raced.map((step) => ({
    step, line: lackingPhotos(sheet, state, step)[0], photo: true,
  })).filter(({ line }) => line !== undefined);
  const due = begun.filter((act) => !spare.includes(act));
  const past = due.filter(({ step }) => isPassed(sheet, state, step)).reverse();
  const [first, ...others] = due.filter((act) => !past.includes(act));
  const acts = [...stale, ...first ? [first] : [], ...past, ...others, ...photos,
    ...spare];
  // What may be read at any time comes after what the race waits for.
  left.sort((one, other) =>
    Number(sheet.steps[one.step].series ?? false)
      - Number(sheet.steps[other.step].series ?? false));
  return (acts.length ? acts : left).slice(0, count);
}

// What the race has left behind is asked for still, beside what is next: what belongs
// to the gap once the joint is closed, kits once nothing more can be done with them.
export function isPassed({ clocks = [], flow, steps, milestones = [] }, state, step) {
  const race = clocks.find((one) => isOwn(one) && state.clocks[one.id]
    && steps[one.start].class === "raced");
  const end = milestones.find(({ id }) => id === race?.until)?.step ?? race?.until;
  const isKit = (id) => clocks.some((one) => one.per_line
    && [one.start, one.until].includes(id));
  const [mine, last] = [step, end].map((id) => flow.indexOf(id));
  const run = flow.slice(0, last + 1).filter((id) => steps[id]?.class === "raced"
    && !steps[id].series);
  const next = isKit(step) ? run.filter((id) => !isKit(id)).slice(-2)
    : run.filter((id) => flow.indexOf(id) > mine);
  return mine < last && next.some((id) => Object.values(state.steps[id].lines)
    .some(({ status }) => status !== "discarded"));
}

/** The recorded lines of a step that still lack a photo. @returns {string[]} */
export function lackingPhotos(sheet, state, step) {
  const { photos, fields = [] } = sheet.steps[step] ?? {};
  if (!photos) return [];
  const needed = fields.filter((field) => field.need);
  return Object.entries(state.steps[step]?.lines ?? {})
    .filter(([, { status, values = {} }]) => status === "partial"
      && needed.every(({ id }) => values[id] !== undefined)).map(([line]) => line);
}

// A reading to take again, where all that feed the running clock near the age at
// which they stop counting.
function staleReadings(open, now) {
  const { sheet, state } = open;
  const main = mainClock(open, now);
  if (!main) return [];
  const steps = main.clock.temps.map(({ step }) => step);
  const taken = steps.flatMap((step) =>
    Object.values(state.steps[step].lines).map((line) => line.at));
  if (now - Math.max(...taken) < main.clock.age_ms - READ_AHEAD_MS) return [];
  return [...new Set(steps)].filter((step) => sheet.steps[step].series
    && !isTooLate(sheet, state, step, now))
    .map((step) => ({ step, line: "" }));
}

function isOpen(state, step) {
  const status = state.steps[step]?.status;
  return status !== undefined && status !== "off" && status !== "done";
}

/** Say whether a clock is one life of the subject itself, as the open time is. */
export function isOwn({ per_line: perLine, other, renewed }) {
  return !perLine && !other && !renewed;
}

// Of several lives that run, as a strand's in its duct and under tension, the one that
// is over soonest; the first begun where nobody knows.
function mainClock({ sheet, state, asOf }, now) {
  const found = (sheet.clocks ?? [])
    .filter((clock) => isOwn(clock) && state.clocks[clock.id])
    .map((clock) => ({ clock, found: state.clocks[clock.id] }))
    .filter(({ found: one }) => !one.ended)
    .map((one) => ({ ...one, at: nextOf(deadlinesOf(one.clock, one.found, asOf), now)
      ?.at ?? Infinity }));
  return found.sort((a, b) => (a.at === b.at ? 0 : a.at - b.at)
    || a.found.start - b.found.start)[0];
}

// The deadline that comes next; once all are past, the last of them.
function nextOf(deadlines, now) {
  return deadlines.find((one) => one.at > now) ?? deadlines.at(-1);
}

/**
 * Gates that only time will open, and from when: the force after a joint has cured.
 * @param {{sheet:object, state:object, asOf:number}} open
 * @returns {{point:string, until:number}[]} later than the moment it was folded for
 */
export function timeGates(open) {
  const { sheet, state, asOf } = open;
  return Object.entries(state.points).flatMap(([point, { status, refusals = [] }]) => {
    const asked = new Set(refusals.map(({ facts }) => facts?.requirement));
    const ends = status === "released" ? [] : (sheet.points[point].requires ?? [])
      .filter(({ id }) => asked.has(id)).map(({ must }) => metBy(open, must))
      .filter((until) => until > asOf);
    return ends.length ? [{ point, until: Math.max(...ends) }] : [];
  });
}

// When a demand on time gone by is met; undefined where it is not time alone.
function metBy(open, must) {
  const { sheet, state, asOf } = open;
  const said = typeof must === "string" ? sheet.conditions?.[must] : must;
  const parts = (said?.of ?? []).map((one) => metBy(open, one));
  if (said?.word === "any") {
    const known = parts.filter((one) => one !== undefined);
    return known.length ? Math.min(...known) : undefined;
  }
  if (said?.word === "all") {
    return parts.includes(undefined) ? undefined : Math.max(...parts);
  }
  const gone = sheet.values?.[said?.value];
  const isWait = said?.word === "between" && typeof said.low === "number"
    && gone?.word === "elapsed" && gone.to === "now" && gone.as === "not_before";
  const so = isWait ? state.values?.[said.value] : undefined;
  return so === undefined ? undefined : asOf + said.low - so;
}

// While this subject is behind or has still to come; once done there is nothing to say.
function aheadClocks(sheet, state, asOf) {
  return (sheet.clocks ?? []).filter((clock) => clock.other)
    .map((clock) => ({ clock, one: state.clocks[clock.id] }))
    .filter(({ clock, one }) => (one ? !one.ended
      : Object.keys(state.steps[clock.until].lines).length === 0))
    .map(({ clock, one }) => ({ title: clock.title, other: clock.other.subject,
      start: one?.start, deadline: one && deadlinesOf(clock, one, asOf)[0] }));
}

function lineClocks(sheet, state, asOf) {
  const each = (sheet.clocks ?? []).filter((one) => one.per_line || one.renewed);
  return each.flatMap((clock) =>
    Object.entries(state.clocks)
      .filter(([id, one]) => `${id}/`.startsWith(`${clock.id}/`) && !one.ended)
      .map(([id, one]) => ({
        id,
        title: clock.title,
        line: id.slice(clock.id.length + 1),
        step: clock.start,
        status: one.status,
        deadline: deadlinesOf(clock, one, asOf)[0],
      })));
}

/**
 * The wall's deadlines, or what was left when folded if that ends sooner: a phone whose
 * clock was put back gains nothing.
 */
export function deadlinesOf(clock, found, asOf) {
  return clock.ratios
    .filter((ratio) => found.deadlines?.[ratio.id] !== undefined)
    .map((ratio) => ({
      id: `${clock.id}.${ratio.id}`,
      title: ratio.title,
      text: ratio.text,
      raises: ratio.raises,
      at: Math.min(found.deadlines[ratio.id],
        asOf + (found.left?.[ratio.id] ?? Infinity)),
    }))
    .sort((a, b) => a.at - b.at);
}

// The rules say how long the rest takes at this gang's pace; it starts now, not when
// the state was folded.
const movedOn = (at, asOf, now) => (at === undefined ? undefined : at - asOf + now);
