// What is within its limits, as whoever signs reads it: a row a step, each figure
// between the ends it must keep, what several share told once. It decides nothing.

import { clockText, dayClockText, wallMs } from "../device/clock.js";
import { icon } from "./icons.js";
import { figureLines, shared } from "./figures.js";
import { fieldEnds, isBeyond, shownEnds } from "./limits.js";
import { model } from "./model.js";
import { computedText, quantityText } from "./numbers.js";
import { h } from "./parts.js";
import { personName, spanText, valueText } from "./speak.js";
import { ageAsked } from "./turns.js";
import { words } from "./later.js";

const text = words.point;
/** So many stretches with limits of their own are told apart, as rounds are. */
const MOST_PARTS = 4;
const [DOT, SPAN] = [" \u00b7 ", "\u2026"];

/**
 * Steps within their limits, a row each. Those of which nothing is to be read but that
 * all was as it should be share the last row, if one person read all of them.
 * @param {object} open @param {[string, [string, object][]][]} steps their lines, each
 *   with its id and what was read
 * @param {{named:boolean, demands:object[], photos:(lines:object[]) => Element}} how
 *   `named` says who read it, `demands` are conditions of the point that may bound a
 *   figure too @returns {HTMLElement[]}
 */
export function withinRows(open, steps, { named, demands, photos }) {
  const rows = steps.map(([step, lines]) => ({
    step, lines, said: open.sheet.steps[step], photos: photos(lines),
    ...toldOf(open, step, lines, demands),
  }));
  const bare = rows.filter((row) => !named && isBare(row));
  return [...rows.filter((row) => !bare.includes(row)).map((row) => oneRow(row, named)),
    bare.length ? h("p.rest.folded.fact", {},
      ...bare.map(({ step, said, lines }, place) => [place ? DOT : "",
        h("span", { "data-rest": step }, h("b", {}, said.title),
          ...goodMark(said, lines))])) : null];
}

function toldOf(open, step, lines, demands) {
  const said = open.sheet.steps[step];
  return {
    facts: [
      ...(said.fields ?? []).map((field) => fieldFact(open, step, field, lines)),
      ...(said.shows ?? []).filter((show) => !isBeyond(open, step, show, demands))
        .map((show) => showFact(open, step, show, lines, demands)),
    ].filter(Boolean),
    chosen: (said.fields ?? []).map((field) =>
      choiceText(open.sheet, said, field, lines)).filter(Boolean),
    age: demands.map((must) => ageAsked(open.sheet, must))
      .find((one) => one?.step === step && lines.length === 1),
  };
}

function isBare({ facts, chosen, photos, age }) {
  return facts.length + chosen.length === 0 && !photos && !age;
}

// When it was read is told where the point asks for its age, and of figures that are
// not of today; of all else one tap away.
function oneRow({ step, lines, said, facts, chosen, age, photos }, named) {
  const isOld = facts.length > 0
    && lines.some(([, { at }]) => dayClockText(at) !== clockText(at));
  const when = age || named || isOld ? timesOf(lines) : "";
  // A release stands whatever grows old after it; who acts on it is told all the same.
  const end = age && lines[0][1].at + age.most;
  const isPast = age && wallMs() >= end;
  return h("article.rest.folded", { "data-rest": step },
    h("p.resthead", {}, h("b", {}, said.title, ...goodMark(said, lines)),
      h(isPast ? "span.restwho.old" : "span.restwho", {}, !age ? when
        : isPast ? text.aged(when, spanText(age.most))
          : text.fresh(when, dayClockText(end)))),
    ...figureLines(facts), ...chosen.map((one) => h("p.fact", {}, one)),
    named ? h("p.restwho", {}, namesOf(lines).join(", ")) : null, photos);
}

/** What figures were read with, each thing once. @returns {string[]} */
export function instruments(sheet, rows) {
  return [...new Set(rows.flatMap(([step, lines]) => {
    const fields = (sheet.steps[step].fields ?? []).filter((field) =>
      isInstrument(sheet.steps[step], field));
    return lines.flatMap(([, { values }]) => fields
      .filter(({ id }) => values[id] !== undefined)
      .map((field) => valueText(sheet, field, values[field.id])));
  }))];
}

/** @returns {string[]} who read some lines, each once */
export function namesOf(lines) {
  return [...new Set(lines.map(([, { person }]) => personName(model.people, person)))];
}

// What is chosen beside a figure is what it was read with.
function isInstrument({ fields }, { kind }) {
  return kind === "item" && fields.some((one) => one.kind === "number" && one.need);
}

// Choices that are all the good one are ticked; what they were stands one tap away.
function goodMark({ fields = [] }, lines) {
  const count = lines.flatMap(([, { values }]) => fields.filter((field) =>
    isYes(field) && values[field.id] !== undefined)).length;
  return [
    count ? h("span.goods", { role: "img", "aria-label": text.good(count) },
      icon("tick")) : null,
    lines.length > 1 ? h("span.goods", {}, `${lines.length}\u00d7`) : null,
  ];
}

function isYes({ kind, options = [] }) {
  return kind === "choice" && options.some(({ good }) => good)
    && options.some(({ good }) => !good);
}

function choiceText(sheet, said, field, lines) {
  if (field.kind === "number" || isYes(field) || isInstrument(said, field)) return "";
  const told = [...new Set(lines.map(([, { values }]) => values[field.id])
    .filter((value) => value !== undefined)
    .map((value) => valueText(sheet, field, value)))];
  // Words are read one by one: what stands between two of them may decide.
  return field.kind === "item" && told.length > 2 ? series(told) : told.join(DOT);
}

// Bar 01 … Bar 06, 32 mm, heat K207: what else is said of them, each once. Only what
// follows one on the other is told by its ends.
function series(told) {
  const heads = told.map((one) => one.split(", ")[0]);
  const numbers = heads.map((one) => Number(/\d+$/.exec(one)?.[0]));
  const isRow = numbers.every((one, place) =>
    place === 0 || one === numbers[place - 1] + 1);
  const tails = [...new Set(told.map((one) => one.split(", ").slice(1).join(", ")))];
  const which = isRow ? `${heads[0]} ${SPAN} ${heads.at(-1)}` : heads.join(DOT);
  return [which, tails.join(" / ")].filter(Boolean).join(", ");
}

function fieldFact(open, step, field, lines) {
  const values = lines.map(([, { values: all }]) => all[field.id])
    .filter((value) => value !== undefined);
  if (values.length === 0 || field.kind !== "number") return null;
  return {
    label: field.label, unit: field.unit, note: field.limit,
    ...spans(lines.map(([line, { values: all }]) => [all[field.id],
      fieldEnds(open, step, line, field, all)]),
    (one) => quantityText(one, "", field.places)),
  };
}

function showFact(open, step, show, lines, demands) {
  const byLine = show.scope === "line";
  const known = (byLine ? lines.map(([, read]) => read.shows?.[show.id])
    : [open.state.steps[step].shows?.[show.id]]).filter((one) => one !== undefined);
  if (known.length === 0) return null;
  const read = byLine ? lines.map(([line, { shows }]) => [shows?.[show.id], line])
    : [[known[0], ""]];
  return {
    label: show.label, unit: show.unit,
    ...spans(read.map(([value, line]) => [value,
      shownEnds(open, step, line, show, demands)]),
    (one) => computedText(one, { ...show, unit: "" })),
  };
}

// The figures between the ends they must keep: those of a round apart from the next
// one's, as a span over all of them would look like a limit.
function spans(read, said) {
  const known = read.filter(([value]) => value !== undefined);
  const groups = new Map();
  for (const [value, ends] of known) {
    const key = `${ends.low} ${ends.high}`;
    if (!groups.has(key)) groups.set(key, { ends, values: [] });
    groups.get(key).values.push(value);
  }
  const parts = [...groups.values()].map(({ ends, values }) =>
    ({ ends, figures: span(values, said) }));
  return parts.length > 1 && parts.length <= MOST_PARTS ? { parts, ends: {} }
    : { ends: shared(known.map(([, ends]) => ends)),
      figures: span(known.map(([value]) => value), said) };
}

function span(values, said) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return low === high ? said(low) : `${said(low)}${SPAN}${said(high)}`;
}

function timesOf(lines) {
  const times = lines.map(([, { at }]) => at);
  return [...new Set([Math.min(...times), Math.max(...times)].map(dayClockText))]
    .join(SPAN);
}
