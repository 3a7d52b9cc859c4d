// Running lives: how long between two moments, how much of a life is used.
// Within one session of one device a use-by clock takes the larger of wall and
// monotonic difference and a not-before clock the smaller; otherwise only wall times
// exist, raw and corrected by the server offsets. Nothing here says "refused": below
// its table a clock uses the coldest certified life, above it the life is spent.

import { straight } from "./kernel.js";
import { ceiling, ratio } from "./numbers.js";

/** Rates are whole numbers of 1e-15 of a life per millisecond. */
export const RATE_UNIT = 10n ** 15n;

export const MINUTE_MS = 60_000;
export const DAY_MS = 24 * 60 * MINUTE_MS;

/** The elapsed time of a use-by clock whose time is not known: over. */
export const OVER_MS = 10 ** 13;

/**
 * A moment as its device saw it: wall and monotonic ms, offset to the server; session,
 * mono and offset are undefined where not known. `unknown`: its wall is not to be
 * believed; then `between` are the known moments it lies between, each undefined where
 * there is none. Without it nothing is known.
 * @typedef {{at:number, session?:string, mono?:number, offset?:number,
 *   unknown:boolean, between?:(Moment|undefined)[]}} Moment
 */

/**
 * A temperature reading, ms after the clock's start (below zero: before it).
 * @typedef {{afterMs:number, temp:bigint}} Knot
 */

/** @returns {Moment} an entry's; a time stated later than it was signed is not taken */
export function momentOf(entry, at = entry.at, unknown = false) {
  const stated = Math.min(at, entry.made);
  return {
    at: stated,
    session: `${entry.device}/${entry.session}`,
    mono: entry.mono - (entry.made - stated),
    offset: entry.offset,
    unknown,
  };
}

/** @param {{at:number, device?:string, session?:string}} now @returns {Moment} */
export function momentNow({ at, device = "", session, mono, offset }) {
  const known = session === undefined ? undefined : `${device}/${session}`;
  return { at, session: known, mono, offset, unknown: false };
}

/**
 * Give the time from start to end, ms: the larger for use-by, else the smaller.
 * @param {Moment} start @param {Moment} end @param {boolean} useBy @returns {number}
 */
export function elapsedMs(start, end, useBy) {
  if ((start.unknown || end.unknown) && !oneClock(start, end)) {
    return apartMs(start, end, useBy);
  }
  const wall = end.at - start.at;
  let other = wall;
  if (start.session !== undefined && start.session === end.session) {
    if (start.mono !== undefined && end.mono !== undefined) {
      other = end.mono - start.mono;
    }
  } else if (start.offset !== undefined && end.offset !== undefined) {
    other = wall + end.offset - start.offset;
  }
  return useBy ? Math.max(wall, other) : Math.min(wall, other);
}

// Whether a clock that is wrong ran on from one to the other.
function oneClock(start, end) {
  const bounded = [start, end].every((each) => !each.unknown || each.between);
  return bounded && start.session !== undefined && start.session === end.session;
}

// The most (use-by) or the least time there can be between two moments.
function apartMs(start, end, useBy) {
  const first = boundOf(start, useBy ? 0 : 1);
  const last = boundOf(end, useBy ? 1 : 0);
  if (!first || !last) return useBy ? OVER_MS : 0;
  return elapsedMs(first, last, useBy);
}

/** Give the known moment before (side 0) or after which it lies; itself if known. */
export function boundOf(moment, side) {
  return moment.unknown ? moment.between?.[side] : moment;
}

/** Give when that is, ms; what the device's own clock said where it is not known. */
export function boundMs(moment, side) {
  return (boundOf(moment, side) ?? moment).at;
}

/**
 * A life as it runs: stretches of constant rate from the clock's start on.
 * `stretches` are [fromMs, toMs or undefined, rate] as BigInts, the rate in 0.5e-15
 * per ms; `spentMs` is when a reading above the table spent the life; `alarm` is
 * "above", "below" or undefined.
 */
export class Life {
  constructor(stretches, spentMs, alarm) {
    this.stretches = stretches;
    this.spentMs = spentMs;
    this.alarm = alarm;
  }

  /** The share of the life used so long after the start (1: all of it). */
  used(atMs) {
    const at = BigInt(atMs);
    let total = 0n;
    for (const [start, end, rate] of this.stretches) {
      const until = end === undefined || end > at ? at : end;
      if (until > start) total += (until - start) * rate;
    }
    const spent = this.spentMs !== undefined && atMs >= this.spentMs;
    if (spent && total < 2n * RATE_UNIT) total = 2n * RATE_UNIT;
    return ratio(total, 2n * RATE_UNIT);
  }

  /** When num/den of the life is used, ms after the start, rounded down. */
  deadlineMs(num, den) {
    const parts = BigInt(den);
    const wanted = 2n * RATE_UNIT * BigInt(num);
    let found = BigInt(OVER_MS);
    let total = 0n;
    for (const [start, end, rate] of this.stretches) {
      const need = wanted - total * parts;
      const endless = end === undefined;
      if (rate > 0n && (endless || need <= (end - start) * rate * parts)) {
        found = start + (need > 0n ? need / (rate * parts) : 0n);
        break;
      }
      if (!endless) total += (end - start) * rate;
    }
    const whole = Number(found < BigInt(OVER_MS) ? found : BigInt(OVER_MS));
    return this.spentMs === undefined ? whole : Math.min(whole, this.spentMs);
  }
}

/**
 * Lay out a running life from temperature readings. Between readings the mean of both
 * rates counts, or the hotter where a certified temperature lies strictly between; a
 * reading older than `ageMs` counts as the hottest certified one; without any reading
 * that is so from the start.
 * @param {{temps:bigint[], rates:bigint[], certified:bigint[]}} table in 0.1 °C
 * @param {Knot[]} all sorted; the last at or before 0 is the temperature at the start
 * @param {number} ageMs
 * @param {boolean} whenRead a reading above the table spends the life when it was read,
 *   not since the one before
 * @returns {Life}
 */
export function runLife(table, all, ageMs, whenRead = false) {
  const hottest = 2n * rateAt(table, table.certified.at(-1));
  const knots = fromStart(all);
  if (knots.length === 0) return new Life([[0n, undefined, hottest]]);
  const stretches = [];
  if (knots[0].afterMs > 0) stretches.push([0, knots[0].afterMs, hottest]);
  for (let place = 0; place + 1 < knots.length; place += 1) {
    const pair = [knots[place], knots[place + 1]];
    stretches.push(...pairStretches(table, pair, ageMs, hottest));
  }
  const last = knots.at(-1);
  const stale = last.afterMs + ageMs;
  stretches.push([last.afterMs, stale, 2n * rateAt(table, last.temp)]);
  stretches.push([stale, undefined, hottest]);
  const running = stretches
    .filter(([, end]) => end === undefined || end > 0)
    .map(([start, end, rate]) =>
      [BigInt(Math.max(start, 0)), end === undefined ? end : BigInt(end), rate]);
  return new Life(running, spentAt(table, knots, whenRead), alarmOf(table, knots));
}

function pairStretches(table, [here, there], ageMs, hottest) {
  const end = there.afterMs;
  const stale = here.afterMs + ageMs;
  if (end <= stale) {
    return [[here.afterMs, end, pairRate(table, here.temp, there.temp)]];
  }
  const hotter = 2n * larger(rateAt(table, here.temp), rateAt(table, there.temp));
  return [[here.afterMs, stale, hotter], [stale, end, hottest]];
}

function fromStart(knots) {
  const first = knots.findLastIndex((knot) => knot.afterMs <= 0);
  return first < 0 ? knots : knots.slice(first);
}

function rateAt({ temps, rates, certified }, temp) {
  const low = certified[0];
  const high = certified.at(-1);
  const inside = temp < low ? low : temp;
  return ceiling(straight(temps, rates, [inside > high ? high : inside, 1n]));
}

function pairRate(table, one, other) {
  const rates = [rateAt(table, one), rateAt(table, other)];
  const [low, high] = one < other ? [one, other] : [other, one];
  if (table.certified.some((node) => low < node && node < high)) {
    return 2n * larger(...rates);
  }
  return rates[0] + rates[1];
}

function larger(one, other) {
  return one > other ? one : other;
}

function spentAt({ certified }, knots, whenRead) {
  const place = knots.findIndex((knot) => knot.temp > certified.at(-1));
  if (place < 0) return undefined;
  return Math.max(knots[whenRead ? place : place - 1]?.afterMs ?? 0, 0);
}

function alarmOf({ certified }, knots) {
  if (knots.some((knot) => knot.temp > certified.at(-1))) return "above";
  return knots.some((knot) => knot.temp < certified[0]) ? "below" : undefined;
}
