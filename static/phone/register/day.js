// The last day of a certificate as people type it, and when that day ends on the site.
// Days are years, months and days of the site's zone, whatever the phone is set to.

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const TYPED = /^(\d\d)(\d\d)(?:(?:20)?(\d\d))?$/;
const CENTURY = 2_000;

/**
 * Read a last day: DDMM, DDMMYY or DDMMYYYY. Without its year the next such day is
 * meant, today's included: a certificate is entered while it is good.
 * @param {string} text @param {number} now ms UTC @param {number} zone minutes
 * @returns {{ends:number}|{fault:"day"|"noSuchDay"}} `ends` ms UTC, exclusive
 */
export function readLastDay(text, now, zone) {
  const found = TYPED.exec(text.trim());
  if (!found) return { fault: "day" };
  const [day, month] = [Number(found[1]), Number(found[2])];
  const today = new Date(now + zone * MINUTE_MS);
  const first = found[3] === undefined ? today.getUTCFullYear()
    : CENTURY + Number(found[3]);
  // The 29th of February may be years away.
  const years = found[3] === undefined ? [0, 1, 2, 3, 4, 5, 6, 7, 8] : [0];
  for (const later of years) {
    const ends = endOf(first + later, month, day, zone);
    if (ends !== undefined && (found[3] !== undefined || ends > now)) return { ends };
  }
  return { fault: "noSuchDay" };
}

// Midnight after the day, on the site; undefined: there is no such day.
function endOf(year, month, day, zone) {
  const start = new Date(Date.UTC(year, month - 1, day));
  return start.getUTCMonth() === month - 1 && start.getUTCDate() === day
    ? start.getTime() + DAY_MS - zone * MINUTE_MS : undefined;
}

/**
 * The noon, as the phone's own zone counts it, of the site's day that ends then or
 * holds the moment before: a day to be written out.
 */
export function lastDayOf(ends, zone) {
  const day = new Date(ends - 1 + zone * MINUTE_MS);
  return new Date(day.getUTCFullYear(), day.getUTCMonth(), day.getUTCDate(), 12)
    .getTime();
}
