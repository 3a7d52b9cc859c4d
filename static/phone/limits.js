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
  const { low, high } = fieldEnds(open, step, line, field);
  const unit = field.unit ? `\u00a0${field.unit}` : "";
  if (low !== undefined && high !== undefined) return text.within(low, high + unit);
  return low !== undefined ? text.least(low + unit)
    : high !== undefined ? text.most(high + unit) : "";
}

/** The same as figures without their unit. @returns {{low?:string, high?:string}} */
export function fieldEnds(open, step, line, field) {
  if (field.kind !== "number") return {};
  return ends(open, step, line, field, (value) =>
    isOf(open.sheet, value, step, field));
}

/**
 * The ends of a computed figure, by its step's checks and whatever else demands them.
 * @param {object} show of the step @param {object[]} demands conditions
 */
export function shownEnds(open, step, line, show, demands = []) {
  return ends(open, step, line, show, (value) => (value === show.value ? "is" : ""),
    demands);
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

function ends(open, step, line, { places = 0, shown = places }, sort, more = []) {
  const musts = (open.sheet.steps[step].checks ?? []).map(({ must }) => must);
  const found = [...musts, ...more].flatMap((must) => bounds(open.sheet, must, sort));
  const at = `${step}/${line}`;
  const of = (side) => found.map((one) => worth(open, one[side], at))
    .filter((one) => one !== undefined);
  const scale = 10 ** (places - shown);
  const low = Math.ceil(Math.max(...of("low")) / scale);
  const high = Math.floor(Math.min(...of("high")) / scale);
  const said = (figure) => (Number.isFinite(figure)
    ? quantityText(figure, "", shown) : undefined);
  return { low: said(low), high: said(high) };
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
