// When something was that a clock cannot tell: what it saw, and what saw it. A wall
// clock that lies behind its device's previous session is wrong, or the previous one
// was: nobody knows which. What the entry had in its past was before it, what has it in
// its own past came after. Order comes from the graph, as everywhere; here it only
// bounds how long something may have taken.

import {
  boundMs, boundOf, elapsedMs, MINUTE_MS, momentOf, OVER_MS,
} from "./clocks.js";
import { holds } from "./graph.js";

/** Clocks that are right differ by no more than this; more is a contradiction. */
export const SLACK_MS = 2 * 60 * 1000;

/**
 * Give the known moments that one which is not known lies between. Where its time was
 * typed, or its session had heard the office's clock, and that lies between them, both
 * are that time.
 * @returns {(object|undefined)[]} two moments
 */
export function between(graph, moments, place) {
  const [first, last] = [before(graph, moments, place), after(graph, moments, place)];
  const own = ownTime(graph, moments, place);
  return own && fits(first, own) && fits(own, last) ? [own, own] : [first, last];
}

/**
 * Say whether a time is over only because nobody knows when it began or ended. Sheets
 * from before this was amended called that run out.
 */
export function untimed(start, end) {
  const bounded = start.between !== undefined || end.between !== undefined;
  return bounded && elapsedMs(start, end, true) === OVER_MS;
}

/**
 * Give when a wait is surely over, ms UTC; undefined where nobody knows when it began.
 * Within the session that began it its own clock tells, wrong or not. Sheets from
 * before this was amended took the wrong clock's hour.
 */
export function overAt(began, at, waitMs) {
  if (began.between === undefined || boundOf(began, 1)) {
    return boundMs(began, 1) + waitMs;
  }
  const runMs = elapsedMs(began, at, false);
  return runMs > 0 ? at.at + waitMs - runMs : undefined;
}

/**
 * Say whether a typed time is before a moment, by more than the minute typed. Whoever
 * typed it read the phone's clock, or a watch that is right where it is wrong.
 */
export function surelyBefore(act, moment) {
  return typed(act).every((each) => elapsedMs(moment, each, true) < -MINUTE_MS);
}

/**
 * Say whether a typed time is after a moment by more than so much, on every clock. The
 * minute typed may have been over, never less: of a life nothing is taken off.
 */
export function surelyAfter(act, moment, ms = MINUTE_MS) {
  return typed(act).every((each) => elapsedMs(moment, each, false) > ms);
}

function typed(act) {
  return [act, { ...act, session: undefined, mono: undefined, offset: 0 }];
}

/**
 * Say whether a moment lies after an end, ms UTC; undefined where nobody knows. Sheets
 * from before this was amended believed the wrong clock.
 */
export function isPast(end, moment) {
  if (moment.between === undefined) return end < moment.at;
  const [first, last] = moment.between;
  if (last && last.at <= end) return false;
  return first && end < first.at ? true : undefined;
}

function ownTime(graph, moments, place) {
  const { at_by: by, at: stated, made, offset } = graph.entries[place];
  const { at } = moments[place];
  // Typed as later than it was signed, by a clock that is wrong, it is neither.
  if (by === "typed" && stated <= made) return { at, unknown: false };
  return offset === undefined ? undefined : byOffice(at, offset);
}

// The nearest moment it saw; of its own device only by the office's clock.
function before(graph, moments, place) {
  const mine = graph.entries[place].device;
  for (let other = place - 1; other >= 0; other -= 1) {
    if (!holds(graph.past[place], other) || moments[other].unknown) continue;
    const { device, offset } = graph.entries[other];
    if (device !== mine) return moments[other];
    if (offset !== undefined) return byOffice(moments[other].at, offset);
  }
  return undefined;
}

// The nearest moment that saw it; what was signed then, whatever it states.
function after(graph, moments, place) {
  const found = graph.entries.findIndex((_, other) => other > place
    && holds(graph.past[other], place) && !moments[other].unknown);
  if (found < 0) return undefined;
  return momentOf(graph.entries[found], graph.entries[found].made);
}

function byOffice(at, offset) {
  return { at: at + offset, offset: 0, unknown: false };
}

// Whether two moments may follow one another, as far as clocks agree.
function fits(first, last) {
  if (!first || !last) return true;
  return first.at + (first.offset ?? 0) <= last.at + (last.offset ?? 0) + SLACK_MS;
}
