// Exact rationals as pairs of BigInts: [numerator, denominator above zero].
// The kernel compares and adds these; rounding is for display only and lives here
// once, half away from zero, so that both languages round alike.

/** What a table answers beyond its ends; never a number, so its denominator is 0. */
export const OUT = Object.freeze([0n, 0n]);

const SHOWN_LIMIT = 2n ** 53n - 1n;

/** @typedef {[bigint, bigint]} Ratio in lowest terms; undefined where missing */

/** @param {bigint} numerator @param {bigint} denominator > 0 @returns {Ratio} */
export function ratio(numerator, denominator) {
  if (denominator === 1n) return [numerator, 1n];
  const divisor = commonDivisor(numerator < 0n ? -numerator : numerator, denominator);
  if (divisor === 1n) return [numerator, denominator];
  return [numerator / divisor, denominator / divisor];
}

/** @param {Ratio} left @param {Ratio} right @returns {number} -1, 0 or 1 */
export function compare(left, right) {
  const difference = left[0] * right[1] - right[0] * left[1];
  if (difference === 0n) return 0;
  return difference > 0n ? 1 : -1;
}

/**
 * Round half away from zero; undefined when too large to be shown exactly.
 * @param {Ratio} value @returns {number|undefined}
 */
export function rounded([top, bottom]) {
  const size = top < 0n ? -top : top;
  const whole = (2n * size + bottom) / (2n * bottom);
  if (whole > SHOWN_LIMIT) return undefined;
  return whole === 0n ? 0 : Number(top < 0n ? -whole : whole);
}

/** @param {Ratio} value @returns {bigint} the smallest whole number not below it */
export function ceiling([top, bottom]) {
  return top > 0n ? (top + bottom - 1n) / bottom : top / bottom;
}

// Most pairs are small enough for plain numbers, which are much faster.
function commonDivisor(left, right) {
  if (left <= SHOWN_LIMIT && right <= SHOWN_LIMIT) {
    let [a, b] = [Number(left), Number(right)];
    while (b !== 0) [a, b] = [b, a % b];
    return BigInt(a);
  }
  let [a, b] = [left, right];
  while (b !== 0n) [a, b] = [b, a % b];
  return a;
}
