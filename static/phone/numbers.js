// Figures as people type and read them: a decimal comma and a point both work, and
// what cannot be meant exactly is refused, never rounded. A figure is kept as a whole
// number of 10^-places of its unit.

const LARGEST = 10n ** 12n;
const MINUS = /[\u2212\u2013]/g;
let country = "en-GB";
let decimal = ".";
let natural = null;
const FIGURE = /^([+-]?)(\d{1,13})(?:[.,](\d*))?$/;

/** Show figures with a country's decimal sign. @param {string} tag as "de-AT" */
export function useCountry(tag) {
  if (tag !== country) decimal = null;
  country = tag;
}

// What the browser knows of countries is asked for when first used: loading it costs a
// slow phone a tenth of a second, which the first screen can do without.
function decimalSign() {
  decimal ??= Intl.NumberFormat(country).formatToParts(0.5)
    .find((part) => part.type === "decimal").value;
  return decimal;
}

/**
 * Read a typed figure.
 * @param {string} text @param {number} places decimals the field allows
 * @returns {{value:number}|{fault:"empty"|"unreadable"|"too_fine"|"too_large",
 *   places?:number}}
 */
export function parseFigure(text, places) {
  const plain = text.trim().replace(MINUS, "-").replace(/[\s\u00a0\u202f]/g, "");
  if (plain === "" || plain === "-" || plain === "+") return { fault: "empty" };
  const found = FIGURE.exec(plain);
  if (!found) return { fault: "unreadable" };
  const [, sign, whole, part = ""] = found;
  const decimals = part.replace(/0+$/, "");
  if (decimals.length > places) return { fault: "too_fine", places };
  const units = BigInt(whole + decimals.padEnd(places, "0"));
  if (units > LARGEST) return { fault: "too_large" };
  const value = Number(units);
  return { value: sign === "-" && value !== 0 ? -value : value };
}

/** @returns {string} a kept figure as text, without its unit: 215, 1 -> "21.5" */
export function figureText(value, places = 0) {
  const digits = String(Math.abs(value)).padStart(places + 1, "0");
  const whole = digits.slice(0, digits.length - places);
  const decimals = digits.slice(digits.length - places);
  const part = places > 0 ? `${decimalSign()}${decimals}` : "";
  return `${value < 0 ? "\u2212" : ""}${whole}${part}`;
}

/** @returns {string} "21.5 °C"; the unit is kept on the figure's line */
export function quantityText(value, unit, places = 0) {
  const figure = figureText(value, places);
  return unit ? `${figure}\u00a0${unit}` : figure;
}

/**
 * A computed figure in the places it is read in, rounded to its safe side.
 * @param {number} value @param {object} show as the sheet has it @returns {string}
 */
export function computedText(value, { unit, places = 0, shown = places, round }) {
  const step = 10 ** (places - shown);
  const up = round === "up" || (round === "out" && value > 0);
  return quantityText((up ? Math.ceil : Math.floor)(value / step), unit, shown);
}

/** @returns {{hours:number, minutes:number}|null} of "1016", "10:16" or "9.05" */
export function parseTimeOfDay(text) {
  const found = /^(\d{1,2})[:.,]?(\d{2})$/.exec(text.trim());
  if (!found) return null;
  const [hours, minutes] = [Number(found[1]), Number(found[2])];
  return hours < 24 && minutes < 60 ? { hours, minutes } : null;
}

/** The same, or with day and month before it: "25111016" is 25 November, 10:16. */
export function parseDayAndTime(text) {
  const found = /^(\d\d)(\d\d)(\d{4})$/.exec(text.trim());
  if (!found) return parseTimeOfDay(text);
  const time = parseTimeOfDay(found[3]);
  return time && { ...time, day: Number(found[1]), month: Number(found[2]) };
}

/** Put names in the order people count in: 3E2 before 3E10. @returns {number} */
export function inOrder(one, other) {
  natural ??= new Intl.Collator("en", { numeric: true });
  return natural.compare(one, other);
}
