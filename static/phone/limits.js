// The limits of a figure, read out of the checks it must pass, so that whoever types or
// signs it sees them beside it. It decides nothing: the rules judge, this only says.

import { Kernel } from "../core/kernel.js";
import { OUT } from "../core/numbers.js";
import { quantityText } from "./numbers.js";
import { words } from "./later.js";

const text = words.limits;
const kernels = new WeakMap();

/**
 * A field's limits in words, "" where no check bounds it by itself.
 * @param {object} open sheet and scene @param {string} step @param {string} line
 * @param {object} field of the step @returns {string}
 */
export function fieldLimit(open, step, line, field) {
  if (field.kind !== "number") return "";
  return spanned(open, step, line, field, (value) =>
    isOf(open.sheet, value, step, field));
}

/** The limits of a computed figure in words. @param {object} show of the step */
export function shownLimit(open, step, line, show) {
  return spanned(open, step, line, show, (value) => value === show.value ? "is" : "");
}

/** What a form says beside a field: the plan's own words, and what they leave out. */
export function limitBeside(open, step, line, field) {
  const found = fieldLimit(open, step, line, field);
  const said = field.limit ?? "";
  const told = figures(said);
  const more = found && figures(found).some((one) => !told.includes(one));
  return more || !said ? [said, found].filter(Boolean).join(" \u00b7 ") : said;
}

function figures(said) {
  return [...said.replaceAll(",", ".").matchAll(/\d+(?:\.\d+)?/g)].map(([one]) =>
    Number(one));
}

function spanned(open, step, line, { unit, places = 0, shown = places }, sort) {
  const found = (open.sheet.steps[step].checks ?? []).flatMap(({ must }) =>
    bounds(open.sheet, must, sort));
  const at = `${step}/${line}`;
  const ends = (side) => found.map((one) => worth(open, one[side], at))
    .filter((one) => one !== undefined);
  const scale = 10 ** (places - shown);
  const low = Math.ceil(Math.max(...ends("low")) / scale);
  const high = Math.floor(Math.min(...ends("high")) / scale);
  const said = (figure, its = unit) => quantityText(figure, its, shown);
  if (Number.isFinite(low) && Number.isFinite(high)) {
    return text.within(said(low, ""), said(high));
  }
  return Number.isFinite(low) ? text.least(said(low))
    : Number.isFinite(high) ? text.most(said(high)) : "";
}

// The demands on one value inside a check. Of the least of several only a low end
// bounds each of them, of the greatest only a high one.
function bounds(sheet, must, sort) {
  const said = typeof must === "string" ? sheet.conditions?.[must] : must;
  if (said?.word === "all") return said.of.flatMap((one) => bounds(sheet, one, sort));
  if (said?.word !== "between") return [];
  const { low, high } = said;
  const ends = { is: { low, high }, min: { low }, max: { high } }[sort(said.value)];
  return ends ? [ends] : [];
}

function isOf(sheet, value, step, field) {
  const said = typeof value === "string" ? sheet.values?.[value] : value;
  const mine = (one) => one?.word === "reading" && one.step === step
    && one.field === field.id && one.line === undefined;
  if (mine(said)) return "is";
  return said?.word === "reduce" && said.values?.some(mine) ? said.how : "";
}

// Undefined where it rests on what is not read yet: then nothing is said of it.
function worth({ sheet, scene }, expression, at) {
  if (expression === undefined) return undefined;
  if (!kernels.has(sheet)) kernels.set(sheet, new Kernel(sheet, new Map()));
  try {
    const found = kernels.get(sheet).value(expression)(scene, at);
    return found === undefined || found === OUT ? undefined
      : Number(found[0]) / Number(found[1]);
  } catch {
    return undefined;
  }
}
