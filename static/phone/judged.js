// How a figure stands to what bounds it, in a form and once read: its limit, and how
// grave it is to be beyond. It decides nothing: the rules judge.

import { hangsNow } from "./hanging.js";
import { bounds, foundEnds, isOf, spanOver } from "./limits.js";
import { quantityText } from "./numbers.js";
import { isAskedHere, restsOn } from "./reading.js";
import { words } from "./later.js";

const text = words.limits;

/** What bounds a field of a form, as its other answers leave it.
 * @returns {{found:object[], span:object|undefined, limit:string, awaits:string}} */
export function boundsOf(form, field) {
  const found = foundEnds(form, field);
  const own = spanOver(found.filter(({ by }) => !by));
  const limit = [saidBeside(field, own), ...saidOfOthers(found, own, field)]
    .filter(Boolean).join(" \u00b7 ");
  return { found, span: spanOver(found), limit, awaits: awaited(form, field) };
}

// An end that hangs on a choice still to be made judges the figure only then, as the
// window of an adhesive does. Until that is said, inside would be heard as all well.
// Of one that may be left out and is not asked for nothing is promised.
function awaited(form, field) {
  const { open, step, entries } = form;
  const isAwaited = (other) => other.need || told(form, { field: other }).asked;
  const ends = (open.sheet.steps[step].checks ?? []).flatMap(({ must }) =>
    bounds(open.sheet, must, (value) => isOf(open.sheet, value, step, field)))
    .flatMap(({ low, high }) => [low, high]).filter((end) => end !== undefined);
  const left = entries.filter(({ field: other, value }) => other?.kind === "choice"
    && value === undefined && isAwaited(other)
    && ends.some((must) => restsOn(open, step, { must }, other)));
  return left.map((one) => text.awaits(one.field.label)).join(" \u00b7 ");
}

/** How an answer stands by the others and by what is heard of its item. */
export function told(form, { field, found = [], value }) {
  if (field.kind === "item") {
    const hangs = value && hangsNow(form.open, value);
    return { tone: hangs ? "yellow" : "", limit: hangs };
  }
  const { open, step, line, mode } = form;
  return { tone: toneOf(found, value), asked: isCalledFor(form, field)
    || (mode !== "correct" && isAskedHere(open, step, line, field)) };
}

// A figure that may be left out is asked for where a check wants it unless a choice is
// another: "3 to 6 mm: say how much".
function isCalledFor({ open, step, entries }, field) {
  const isOf = (said, one) => said?.word === "reading" && said.step === step
    && said.field === one?.id;
  const isChosenAway = ({ word, value, set }) => {
    const chosen = entries.find((entry) => isOf(value, entry.field))?.value;
    return word === "in" && chosen !== undefined && !set.includes(chosen);
  };
  return !field.need && (open.sheet.steps[step].checks ?? []).some(({ must }) => {
    if (must.word !== "any") return false;
    const rests = (one) => restsOn(open, step, { must: one }, field);
    const others = must.of.filter((one) => !rests(one));
    return others.length > 0 && others.length < must.of.length
      && others.every(isChosenAway);
  });
}

// What the other answers ask of a figure is no limit of its own: whoever signs sees it
// beside the figure that they make together.
function saidOfOthers(found, own = {}, { unit, places }) {
  const names = [...new Set(found.map(({ by }) => by).filter(Boolean))];
  return names.map((name) => {
    const { low, high } = spanOver(found.filter(({ by }) => by === name)) ?? {};
    const said = worded(low > (own.low ?? -Infinity) ? low : undefined,
      high < (own.high ?? Infinity) ? high : undefined, unit, places);
    return said && text.by(said, name);
  });
}

/** @returns {string} red: beyond what raises something; yellow: a caution; else "" */
export function toneOf(found, value) {
  const broken = found.filter(({ low, high }) => value < low || value > high);
  return broken.some(({ raises }) => raises !== "caution") ? "red"
    : broken.length ? "yellow" : "";
}

/**
 * What a figure as read is beyond, if it is.
 * @param {object} values read on the line
 * @returns {{tone:string, limit:string}|undefined}
 */
export function outsideOf(open, step, line, field, values) {
  const entries = (open.sheet.steps[step].fields ?? [])
    .map((one) => ({ field: one, value: values[one.id] }));
  const { found, limit } = boundsOf({ open, step, line, entries }, field);
  const tone = toneOf(found, values[field.id]);
  return tone ? { tone, limit } : undefined;
}

/** What a form says beside a field: the plan's own words, and what they leave out. */
export function saidBeside({ limit = "", unit, places = 0 }, span) {
  const told = figures(limit);
  const mine = (said) => said.filter((one) => one !== undefined)
    .some((one) => !told.includes(one / 10 ** places));
  const { low, high, never } = span ?? {};
  const own = limit === "" || mine([low, high]) ? worded(low, high, unit, places) : "";
  const cap = never !== undefined && mine([never])
    ? text.never(quantityText(never, unit, places)) : "";
  return [limit, own, cap].filter(Boolean).join(" \u00b7 ");
}

function figures(said) {
  return [...said.replaceAll(",", ".").replaceAll("\u2212", "-")
    .matchAll(/-?\d+(?:\.\d+)?/g)].flatMap(([one]) => [Number(one), -Number(one)]);
}

function worded(low, high, unit, places) {
  const said = (figure, its = unit) => quantityText(figure, its, places);
  if (low !== undefined && high !== undefined) {
    return text.within(said(low, ""), said(high));
  }
  return low !== undefined ? text.least(said(low))
    : high !== undefined ? text.most(said(high)) : "";
}
