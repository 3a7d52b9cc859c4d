// What was typed into a field, understood or refused. Nothing is rounded or guessed.

import { dayMonthBefore, earlierToday, nearestTo, wallMs } from "../device/clock.js";
import { parseDayAndTime, parseFigure, quantityText } from "./numbers.js";
import { words } from "./words.js";

const text = words.form;

/** Set an answer's `value`, or its `fault` in words, from its typed `text`. */
export function read(entry) {
  entry.fault = undefined;
  if (entry.text === "") entry.value = undefined;
  else if (entry.when) readTime(entry);
  else if (entry.field.kind === "number") readNumber(entry);
  else entry.value = entry.text.trim().normalize("NFC") || undefined;
}

/**
 * The figure the plan wants: a number of the line that goes with the item chosen in
 * this form (a jack's own gauge reads its own target), else the line's own.
 */
export function targetOf({ open, step, line, entries }, field) {
  const said = open.sheet.steps[step];
  const numbers = (said.lines ?? []).find((one) => one.id === line)?.numbers;
  const fields = said.fields ?? [];
  const aimed = fields.find((one) => one.aim)
    ?? fields.find((one) => one.kind === "number");
  if (!numbers || aimed !== field) return undefined;
  const chosen = entries.filter((one) => one.field?.kind === "item" && one.value);
  return chosen.map((one) => numbers[`aim.${one.value}`])
    .find((aim) => aim !== undefined) ?? numbers.aim;
}

/**
 * Whether a line asks for a field that others may leave out: a check of the step counts
 * the field's readings in this line's round, as the extensions of the last one.
 * @returns {boolean}
 */
export function isAskedHere({ sheet }, step, line, field) {
  const { lines = [], checks = [] } = sheet.steps[step];
  const { round } = lines.find(({ id }) => id === line) ?? {};
  if (field.need || round === undefined) return false;
  const isCount = (said) => said.word === "reduce" && said.step === step
    && said.round === round && isReading(said.value, step, field);
  return checks.some(({ must }) => says(sheet, must, isCount));
}

/** Whether a check rests on a field, through whatever is named in between. */
export function restsOn({ sheet }, step, { must }, field) {
  return says(sheet, must, (said) => isReading(said, step, field));
}

function isReading(said, step, field) {
  return said?.word === "reading" && said.step === step && said.field === field.id;
}

// Whether any part of an expression is such, through the names it uses.
function says(sheet, said, such, seen = new Set()) {
  if (typeof said === "string") {
    if (seen.has(said)) return false;
    seen.add(said);
    return [sheet.conditions?.[said], sheet.values?.[said]].some((one) =>
      one !== undefined && says(sheet, one, such, seen));
  }
  if (said === null || typeof said !== "object") return false;
  return such(said) || Object.values(said).some((one) => says(sheet, one, such, seen));
}

function readTime(entry) {
  const found = parseDayAndTime(entry.text);
  const now = wallMs();
  entry.value = undefined;
  if (found?.month) entry.value = dayMonthBefore(found, now);
  else if (found) {
    entry.value = entry.near === undefined
      ? earlierToday(found.hours, found.minutes, now)
      : nearestTo(entry.near, found, now);
  }
  if (entry.value === undefined) entry.fault = text.fault.time;
}

// What may be typed at all is told to whoever typed something else.
function outside({ low, high, unit, places }) {
  if (low === undefined || high === undefined) return text.out;
  const [least, most] = [[low, ""], [high, unit]].map(([end, sign]) =>
    quantityText(end, sign, places));
  return `${text.out}: ${text.allowed(least, most)}`;
}

function readNumber(entry) {
  const { places = 0, low, high } = entry.field;
  const found = parseFigure(entry.text, places);
  entry.value = found.value;
  if (found.fault === "too_fine") entry.fault = text.tooFine(found.places);
  else if (found.fault) entry.fault = text.fault[found.fault];
  else if ((low !== undefined && found.value < low)
    || (high !== undefined && found.value > high)) {
    entry.fault = outside(entry.field);
    entry.value = undefined;
  }
}
