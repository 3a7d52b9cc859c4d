// The limits of a figure, read out of the checks it must pass, so that whoever types or
// signs it sees them beside it. It decides nothing: the rules judge, this only says.

import { Kernel } from "../core/kernel.js";
import { OUT } from "../core/numbers.js";
import { quantityText } from "./numbers.js";
import { restsOn } from "./reading.js";
import { words } from "./later.js";

const text = words.limits;
const kernels = new WeakMap();
/** So many figures are tried before the ends are looked for. */
const SAMPLES = 64;
/** The line of a series that is not read yet. */
const DRAFT = "draft";

/**
 * A field's limits in words, "" where no check bounds it.
 * @param {object} open sheet and scene @param {string} step @param {string} line
 * @param {object} field of the step @param {object} [values] read on the line
 */
export function fieldLimit(open, step, line, field, values) {
  return endsText(fieldEnds(open, step, line, field, values),
    field.unit ? `\u00a0${field.unit}` : "");
}

/** Ends as figures in words, "" of none. @returns {string} */
export function endsText({ low, high }, unit = "") {
  if (low !== undefined && high !== undefined) return text.within(low, high + unit);
  return low !== undefined ? text.least(low + unit)
    : high !== undefined ? text.most(high + unit) : "";
}

/** The same as figures without their unit; with what was read on the line, as its form
 * found them: whoever signs sees the limits that whoever typed saw. */
export function fieldEnds(open, step, line, field, values) {
  if (field.kind !== "number") return {};
  if (!values || !open.scene) {
    return ends(open, step, line, field, (value) =>
      isOf(open.sheet, value, step, field));
  }
  const entries = (open.sheet.steps[step].fields ?? [])
    .map((one) => ({ field: one, value: values[one.id] }));
  const span = spanOf({ open, step, line, entries, read: true }, field) ?? {};
  return Object.fromEntries(Object.entries(span).map(([side, one]) =>
    [side, quantityText(one, "", field.places)]));
}

/**
 * The ends of a computed figure, by its step's checks and whatever else demands them.
 * @param {object} show of the step @param {object[]} demands conditions
 */
export function shownEnds(open, step, line, show, demands = []) {
  const is = (value) => (value === show.value ? "is" : "");
  return ends(open, step, line, show, is, demands);
}

/** Say whether a step's computed figure lies beyond what bounds it; the same is asked.
 * @returns {boolean} */
export function isBeyond(open, step, show, demands = []) {
  const value = show.scope === "line" ? undefined
    : open.state.steps[step].shows?.[show.id];
  const { low, high } = widest(open, step, "", (one) =>
    (one === show.value ? "is" : ""), demands);
  return value !== undefined && (value < low || value > high);
}

/**
 * What a figure may be, as far as the form's other answers tell.
 * @typedef {{low?:number, high?:number, never?:number}} Span in the field's own whole
 *   numbers; `never` is a cap beyond the band
 * @param {object} form open, step, line, entries; `read`: it was read, not typed
 * @param {object} field of the step @returns {Span|undefined} undefined: no bounds
 */
export function spanOf(form, field) {
  return spanOver(foundEnds(form, field));
}

/** The ends that each check sets to a figure, with what it raises; `by` names the
 * computed figure that is bounded, where it is not this one. */
export function foundEnds(form, field) {
  return field.kind !== "number" ? []
    : (form.open.sheet.steps[form.step].checks ?? [])
      .map((check) => endsOf(form, field, check)).filter(Boolean);
}

/** The span that such ends leave. @returns {Span|undefined} */
export function spanOver(found) {
  const lows = found.map(({ low }) => low).filter(Number.isFinite);
  const highs = found.map(({ high }) => high).filter(Number.isFinite);
  if (lows.length + highs.length === 0) return undefined;
  const caps = found.filter(({ low, high, raises }) => raises !== "caution"
    && low === undefined && Number.isFinite(high)).map(({ high }) => high);
  const span = {};
  if (lows.length) span.low = Math.ceil(Math.max(...lows));
  if (highs.length) span.high = Math.floor(Math.min(...highs));
  const never = Math.floor(Math.min(...caps));
  // A cap within the band is the band's own end.
  if (Number.isFinite(never) && never > span.high) span.never = never;
  return span;
}

// The ends one check sets to a field: read out of it where it bounds the reading
// itself, else found by asking it of one figure after the other.
function endsOf(form, field, check) {
  const { open, step } = form;
  const told = bounds(open.sheet, check.must, (value) =>
    isOf(open.sheet, value, step, field));
  const { raises } = check;
  if (told.length) {
    const [scene, name] = sceneWith(form);
    const ends = (side) => told.map((one) =>
      worth({ sheet: open.sheet, scene }, one[side], `${step}/${name}`))
      .filter((one) => one !== undefined);
    const [lows, highs] = [ends("low"), ends("high")];
    return { raises, low: lows.length ? Math.max(...lows) : undefined,
      high: highs.length ? Math.min(...highs) : undefined };
  }
  const { low, high } = field;
  // What was read is bounded by its line; what figures make together (the margin above
  // dew point) is shown as itself.
  if (low === undefined || high === undefined || (form.read && check.scope !== "line")
    || !restsOn(open, step, check, field)) return undefined;
  const found = edges(asking(form, field, check), low, high);
  return found && { raises, ...found, by: computedBy(open.sheet, step, check) };
}

// What a step's readings make together (the margin above dew point) has a name of its
// own, and is shown with its own limit.
function computedBy({ steps }, step, { must, scope }) {
  return scope === "line" ? undefined
    : steps[step].shows?.find(({ value }) => value === must.value)?.label;
}

// A check asked of the line as the form has it, with another figure in one field.
function asking(form, field, { id }) {
  const { open, step } = form;
  const check = open.scene.view.sheet.steps.get(step).checks
    .find((one) => one.id === id);
  return (value) => {
    const [scene, name] = sceneWith(form, { [field.id]: value });
    try {
      return check.must(scene, check.scope === "line" ? `${step}/${name}` : "");
    } catch {
      // It asks when this line was read: nobody knows yet.
      return undefined;
    }
  };
}

// The scene as it would be with a form's answers on its line, and the line's name.
function sceneWith({ open, step, line, entries }, more = {}) {
  const name = open.sheet.steps[step].series ? DRAFT : line;
  const answers = Object.fromEntries(entries
    .filter(({ field, value }) => field && value !== undefined)
    .map(({ field, value }) => [field.id, value]));
  const lines = new Map(open.scene.lines(step)).set(name, {
    id: name, root: Infinity, current: Infinity, asserted: [Infinity],
    values: { ...answers, ...more }, disputed: false, discarded: false,
  });
  return [open.scene.withLines(step, lines), name];
}

// The two ends of the one stretch that passes; nothing where there is no such stretch,
// or where it rests on what is not answered yet. Between samples it is taken as whole.
function edges(passes, low, high) {
  const width = Math.max(1, (high - low) / SAMPLES);
  const tried = [];
  for (let at = low; at < high; at += width) tried.push(Math.round(at));
  tried.push(high);
  const answers = [];
  for (const one of tried) {
    const answer = passes(one);
    if (answer === undefined) return undefined;
    answers.push(answer);
  }
  const [first, last] = [answers.indexOf(true), answers.lastIndexOf(true)];
  if (first < 0 || answers.slice(first, last).includes(false)) return undefined;
  return {
    low: first === 0 ? undefined : halved(passes, tried[first], tried[first - 1]),
    high: last === tried.length - 1 ? undefined
      : halved(passes, tried[last], tried[last + 1]),
  };
}

function halved(passes, good, bad) {
  let [inside, outside] = [good, bad];
  while (Math.abs(outside - inside) > 1) {
    const middle = Math.trunc((inside + outside) / 2);
    if (passes(middle)) inside = middle;
    else outside = middle;
  }
  return inside;
}

function ends(open, step, line, { places = 0, shown = places }, sort, more = []) {
  const { low, high } = widest(open, step, line, sort, more);
  const scale = 10 ** (places - shown);
  const said = (figure) => (Number.isFinite(figure)
    ? quantityText(figure, "", shown) : undefined);
  return { low: said(Math.ceil(low / scale)), high: said(Math.floor(high / scale)) };
}

// Both ends of a value in its own whole numbers, infinite where nothing bounds it.
function widest(open, step, line, sort, more) {
  const musts = (open.sheet.steps[step]?.checks ?? []).map(({ must }) => must);
  const found = [...musts, ...more].flatMap((must) => bounds(open.sheet, must, sort));
  const at = `${step}/${line}`;
  const of = (side) => found.map((one) => worth(open, one[side], at))
    .filter((one) => one !== undefined);
  return { low: Math.max(...of("low")), high: Math.min(...of("high")) };
}

// The demands on one value inside a check. Of the least of several only a low end
// bounds each of them, of the greatest only a high one.
export function bounds(sheet, must, sort) {
  const said = typeof must === "string" ? sheet.conditions?.[must] : must;
  if (said?.word === "all") return said.of.flatMap((one) => bounds(sheet, one, sort));
  if (said?.word !== "between") return [];
  const { low, high } = said;
  const ends = { is: { low, high }, min: { low }, max: { high } }[sort(said.value)];
  return ends ? [ends] : [];
}

export function isOf(sheet, value, step, field) {
  const said = typeof value === "string" ? sheet.values?.[value] : value;
  const mine = (one) => one?.word === "reading" && one.step === step
    && one.field === field.id && one.line === undefined;
  if (mine(said)) return "is";
  return said?.word === "reduce" && said.values?.some(mine) ? said.how : "";
}

/** What an expression comes to; undefined where it rests on what is not read yet. */
export function worth({ sheet, scene }, expression, at) {
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
