// The only place of the phone that reads a clock. Everything else is handed the
// time, so that it can be tested at any moment. Times are whole milliseconds UTC;
// local time exists only on screens. No rule may order facts by it.

const session = crypto.randomUUID();
let serverOffset;
/** Phones' clocks may differ this much before it is told. */
const CLOCK_SLACK_MS = 2 * 60_000;
let locale = "en-GB";

/** One run of this page: monotonic readings are comparable only within it. */
export function sessionId() {
  return session;
}

/** @returns {number} the phone's wall clock, ms UTC */
export function wallMs() {
  return Date.now();
}

/** @returns {number} ms since this session began; never goes back */
export function monoMs() {
  return Math.round(performance.now());
}

/** @returns {number} minutes east of UTC, as the phone is set */
export function zoneMinutes() {
  const minutes = -new Date(wallMs()).getTimezoneOffset();
  return minutes === 0 ? 0 : minutes;
}

/** @returns {string} "UTC+1", "UTC-3:30" of minutes east of UTC */
export function zoneText(minutes) {
  const [hours, rest] = [Math.trunc(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return `UTC${minutes < 0 ? "-" : "+"}${hours}${rest ? `:${two(rest)}` : ""}`;
}

/** Remember how far the server's clock, as answered now, is ahead of this phone's. */
export function noteServerTime(serverNow, askedAt) {
  if (!Number.isInteger(serverNow)) return;
  serverOffset = serverNow - Math.round((askedAt + wallMs()) / 2);
}

/**
 * How far this phone's clock is wrong, as the office's says, in ms: ahead is positive;
 * 0 while it is not heard yet or the difference is small.
 */
export function clockFault() {
  const ahead = -(serverOffset ?? 0);
  return Math.abs(ahead) > CLOCK_SLACK_MS ? ahead : 0;
}

/** @returns {{at:number, session:string, mono:number, offset?:number}} */
export function moment() {
  const now = { at: wallMs(), session, mono: monoMs() };
  if (serverOffset !== undefined) now.offset = serverOffset;
  return now;
}

/** Do some work and leave its duration in the browser's own timeline. */
export async function timed(name, work) {
  const start = performance.now();
  try {
    return await work();
  } finally {
    performance.measure(name, { start });
  }
}

/** Leave a mark in the browser's own timeline. */
export function mark(name) {
  performance.mark(name);
}

/** Write days as people of a country do. @param {string} tag as "de-AT" */
export function useLocale(tag) {
  locale = tag;
}

/** @returns {string} local "HH:MM" of a time in ms UTC */
export function clockText(ms) {
  const when = new Date(ms);
  return `${two(when.getHours())}:${two(when.getMinutes())}`;
}

/** @returns {string} "HH:MM" today, "25 Nov 10:16" on another day */
export function dayClockText(ms) {
  const when = new Date(ms);
  if (when.toDateString() === new Date(wallMs()).toDateString()) {
    return clockText(ms);
  }
  const day = when.toLocaleDateString(locale, { day: "numeric", month: "short" });
  return `${day} ${clockText(ms)}`;
}

/** @returns {string} "25 Nov 2026", the local day of a time in ms UTC */
export function dayText(ms) {
  return new Date(ms).toLocaleDateString(locale,
    { day: "numeric", month: "short", year: "numeric" });
}

/** The latest time of day "HH:MM" that is not after the given moment, ms UTC. */
export function earlierToday(hours, minutes, now) {
  const when = new Date(now);
  when.setHours(hours, minutes, 0, 0);
  if (when.getTime() > now) when.setDate(when.getDate() - 1);
  return when.getTime();
}

/**
 * The time of day meant beside another moment, not after now, ms UTC: of the same day,
 * and later rather than earlier, as a sheet is read; of another where far nearer.
 */
export function nearestTo(moment, { hours, minutes }, now) {
  const found = [-1, 0, 1].map((day) => {
    const when = new Date(moment);
    when.setDate(when.getDate() + day);
    const ms = when.setHours(hours, minutes, 0, 0);
    return { ms, far: Math.abs(ms - moment) / (day === 0 && ms > moment ? 3 : 1) };
  });
  return found.filter(({ ms }) => ms <= now).sort((a, b) => a.far - b.far)[0]?.ms;
}

/** The latest such day and time that is not after the given moment; undefined: none. */
export function dayMonthBefore({ day, month, hours, minutes }, now) {
  const year = new Date(now).getFullYear();
  return [year, year - 1].map((each) => new Date(each, month - 1, day, hours, minutes))
    .filter((when) => when.getDate() === day && when.getMonth() === month - 1)
    .map((when) => when.getTime()).find((ms) => ms <= now);
}

function two(number) {
  return String(number).padStart(2, "0");
}
