// What was typed and may be a slip. Whether two digits of a figure were swapped, told
// by what was read of the same shortly before: 18 for 81 makes a pass of what would
// fail, and no limit says so. It only asks. Pure.

/** What was read longer ago says little of the air or a face now. */
const SHORTLY_MS = 3 * 3_600_000;
/** Further off than this share of its band is far; of what may be typed at all, where
 * no band has both ends. */
const [OF_BAND, OF_RANGE] = [1 / 2, 1 / 5];

const DAY_MS = 24 * 3_600_000;
/** An hour and minutes alone name no day. */
const HOUR_DIGITS = 4;

/** Whether an hour without its day was taken as yesterday's, as one later than now is,
 * though the sheet in hand, if there is one, is not of then. @returns {boolean} */
export function becameYesterday({ text, value, near }, now) {
  if (value === undefined || text.replaceAll(/\D/g, "").length > HOUR_DIGITS) {
    return false;
  }
  const day = (ms) => new Date(ms).toDateString();
  return day(value) === day(now - DAY_MS)
    && (near === undefined || day(near) !== day(value));
}

/**
 * @param {number} typed in the field's own whole numbers
 * @param {{value:number, at:number}[]} known what was read of the same shortly before
 * @param {{low?:number, high?:number}} [span] @param {object} field
 * @returns {{figure:number, value:number, at:number}|undefined} the figure with two
 *   neighbouring digits swapped, and the reading it is much nearer to
 */
export function swappedOf(typed, known, span, field) {
  if (known.length === 0) return undefined;
  const offOf = (figure) => ({ value }) => Math.abs(value - figure);
  const nearest = (figure) => known.toSorted((a, b) =>
    offOf(figure)(a) - offOf(figure)(b))[0];
  const off = (figure) => offOf(figure)(nearest(figure));
  if (off(typed) <= farOf(span, field, nearest(typed).value)) return undefined;
  const [best] = orders(typed).filter((one) => one !== typed
    && !(one < field.low || one > field.high) && off(one) * 2 < off(typed))
    .sort((a, b) => off(a) - off(b));
  return best === undefined ? undefined : { figure: best, ...nearest(best) };
}

/** What was read of a field shortly before, whatever became of it since, in another
 * attempt as well. @returns {{value:number, at:number}[]} */
export function knownBefore({ entries, sheet }, step, line, field, now) {
  const { series } = sheet.steps[step];
  return entries.filter((one) => one.step === step && (series || one.line === line)
    && Math.abs(now - one.at) < SHORTLY_MS
    && typeof one.values?.[field.id] === "number")
    .map(({ at, values }) => ({ at, value: values[field.id] }));
}

function farOf({ low, high } = {}, field, near) {
  if (low !== undefined && high !== undefined) return (high - low) * OF_BAND;
  return (field.low === undefined || field.high === undefined ? Math.abs(near)
    : field.high - field.low) * OF_RANGE;
}

function orders(figure) {
  const digits = String(Math.abs(figure));
  const swapped = [...digits.slice(1)].map((_, at) => digits.slice(0, at)
    + digits[at + 1] + digits[at] + digits.slice(at + 2));
  return swapped.filter((one) => one[0] !== "0")
    .map((one) => Math.sign(figure) * Number(one));
}
