// Turns ids, figures and refusals into what a person reads, by the sheet's own titles
// and the one file of rule words. It decides nothing.

import rules from "../core/words.json" with { type: "json" };
import { dayClockText } from "../device/clock.js";
import { lackingPhotos, titleOf } from "./minutes.js";
import { model, subjectTitle } from "./model.js";
import { computedText, quantityText } from "./numbers.js";
import { badge } from "./parts.js";
import { codeSaid, signOf, toneOf } from "./states.js";
import { words } from "./words.js";

/** Flags that the name of the entry's kind says already. */
const SAID = ["copied", "correction", "anyway"];

/**
 * A refusal or flag in words.
 * @param {{code:string, facts?:object}} refusal @param {object} sheet
 * @param {object} people the roster @param {object} [state] to name nonconformances
 * @returns {string}
 */
export function refusalText(refusal, sheet, people = {}, state = undefined) {
  const facts = refusal.facts ?? {};
  const code = codeSaid(refusal.code, facts, sheet);
  const pattern = words.rules[code] ?? rules[code]?.text ?? code.replaceAll("_", " ");
  const said = pattern.replaceAll(/\{(\w+)\}/g, (_, name) =>
    factText(name, facts, { sheet, people, state, entries: model.open?.entries }));
  return refusal.code === "step_partial" && state
    ? [said, ...photosText(sheet, state, facts.step)].join(" ") : said;
}

/** @returns {string} a refusal of a gate: why, by whom and when */
export function refusalSaid(entry) {
  return `${words.state.refused}: ${entry.about.reason} \u00b7 ${byWhom(entry)}`;
}

/** @returns {string} who made an entry, and when */
export function byWhom(entry) {
  return `${personName(model.people, entry.person)} ${dayClockText(entry.at)}`;
}

function photosText(sheet, state, step) {
  const { entries } = model.open ?? {};
  return lackingPhotos(sheet, state, step).map((line) => {
    const label = lineLabel(sheet, step, line);
    const count = photosMissing({ sheet, state, entries: entries ?? [] }, step, line);
    return `${label ? `${label}: ` : ""}${words.photo.missing(count)}.`;
  });
}

/** @returns {string} a nonconformance of a state in words: where, and what */
export function faultTitle(fault, { sheet, people, state, entries = [] }) {
  const step = sheet.steps[fault.step];
  const line = step && fault.line && !step.series
    ? lineLabel(sheet, fault.step, fault.line) : "";
  const said = saidOf(fault, { sheet, people, state, entries });
  return [step?.title, line, said].filter(Boolean).join(" \u00b7 ");
}

/** @returns {string} what is wrong, without where */
export function saidOf(fault, { sheet, people, state, entries = [] }) {
  const entry = entries.find((one) => one.id === fault.entry);
  if (fault.code === "by_hand" && entry) return entry.about.text;
  // No gate forbade it but what it needs, which was open or in dispute.
  const isEarly = fault.code === "gate_shut" && !gatesOf(fault, { sheet });
  return isEarly ? words.entry.anyway
    : refusalText({ code: fault.code, facts: fault }, sheet, people, state);
}

/** @returns {string} what a step says a failed or cautioned check means; `line`: as it
 * was read, where its items are known */
export function checkText(sheet, step, id, line) {
  const said = (sheet.steps[step]?.checks ?? []).find((one) => one.id === id);
  if (said) return said.text;
  const [code, check] = id.split(":");
  return refusalText({ code, facts: { ...line, step, check } }, sheet);
}

/** @returns {string[]} what a step fails as a whole, one by one */
export function failureTexts(sheet, step, { failed, twice = [] }) {
  return [
    ...failed.filter((id) => !twice.some(({ field }) => id === `item_twice:${field}`))
      .map((id) => checkText(sheet, step, id)),
    ...twice.map(({ item, lines }) =>
      refusalText({ code: "item_twice", facts: { step, item, lines } }, sheet)),
  ];
}

/**
 * What a reader must be told of an entry besides what it says: late, another revision,
 * a clock that contradicts, somebody whose role or name the plan does not know.
 * @param {string[]} [known] codes that need not be said
 * @returns {string[]}
 */
export function flagTexts({ flags = [] }, entry, sheet, known = []) {
  const said = [...SAID, ...known];
  return flags.filter(({ entry: id, code }) => id === entry.id && !said.includes(code))
    .map(({ code }) => (code === "late" ? words.line.late(dayClockText(entry.made))
      : code === "bad_value" ? words.form.out : refusalText({ code }, sheet)));
}

/** @returns {string} a reading as shown: figure with unit, option label, item, text */
export function valueText(sheet, field, value) {
  if (value === undefined) return "\u2014";
  if (field.kind === "number") return quantityText(value, field.unit, field.places);
  if (field.kind === "choice") {
    return field.options.find((one) => one.value === value)?.label ?? String(value);
  }
  if (field.kind === "item") {
    return (model.items?.[value] ?? sheet.items?.[value])?.label ?? String(value);
  }
  return String(value);
}

/** @returns {string[]} "label: value" of every reading of a line */
export function readings(sheet, step, values = {}) {
  return (sheet.steps[step].fields ?? [])
    .filter((field) => values[field.id] !== undefined)
    .map((field) => `${field.label}: ${valueText(sheet, field, values[field.id])}`);
}

/** @returns {string[]} computed figures of a line or step in words */
export function shownFigures(sheet, step, shows = {}) {
  return (sheet.steps[step].shows ?? [])
    .filter((one) => shows[one.id] !== undefined)
    .map((one) => `${one.label}: ${computedText(shows[one.id], one)}`);
}

/**
 * How many photos a recorded line still lacks; one at least where a view kept from
 * before does not hold the entries to count them.
 */
export function photosMissing({ sheet, state, entries }, step, line) {
  if (!lackingPhotos(sheet, state, step).includes(line)) return 0;
  const { entries: read } = state.steps[step].lines[line];
  const found = entries.filter(({ id }) => read.includes(id))
    .flatMap((one) => one.photos ?? []);
  return Math.max(0, sheet.steps[step].photos - new Set(found).size);
}

/** @returns {string} the label of a line of a step, "" for a step of one line; where a
 * step has none, that of a field */
export function lineLabel(sheet, step, line) {
  const { lines = [], fields = [], series } = sheet.steps[step];
  // A line of a series is named by its entry, which says nothing to anybody.
  const named = [...lines, ...fields].find(({ id }) => id === line);
  return series ? "" : named?.label ?? line;
}

/** @returns {string} a person's name: as the roster has it, else as the code said */
export function personName(people, id) {
  return people[id]?.name ?? model.here.find(({ person }) => person === id)?.name ?? id;
}

/** @returns {string} what a role is called on this site */
export function roleName(role) {
  return model.roles?.[role] ?? role.replaceAll("-", " ");
}

/** @returns {HTMLElement} the badge of a status word */
export function stateBadge(status) {
  return badge(toneOf(status), signOf(status), words.state[status] ?? status);
}

/**
 * @returns {string} "4:05" under ten minutes, "11 min", "5 h 40 min" from two hours,
 *   "5 d 22 h" from two days
 */
export function spanText(ms) {
  const seconds = Math.floor(Math.abs(ms) / 1000);
  if (seconds >= 172_800) {
    return `${Math.floor(seconds / 86_400)} d ${Math.floor(seconds / 3_600) % 24} h`;
  }
  if (seconds >= 7_200) {
    return `${Math.floor(seconds / 3_600)} h ${Math.floor(seconds / 60) % 60} min`;
  }
  if (seconds >= 600) return `${Math.floor(seconds / 60)} min`;
  const rest = String(seconds % 60).padStart(2, "0");
  return `${Math.floor(seconds / 60)}:${rest}`;
}

/** What a refusal does not say itself; later screens add theirs (`named.js`). */
export const FOUND = { point: gatesOf };

/** How facts are told, by their names; so do they here. */
export const FACTS = {
  requirement: ({ point, requirement }, { sheet }) =>
    (sheet.points[point]?.requires ?? []).find((one) => one.id === requirement)?.text,
  check: ({ step, check, code, line }, { sheet, state }) => (code === "clock_over"
    ? ratioText(sheet, state, { step, check, line })
    : checkTitle(sheet.steps[step], check)),
  item: ({ item }, { sheet }) => (model.items?.[item] ?? sheet.items?.[item])?.label,
  lines: ({ step, lines }, { sheet }) =>
    lines.split(",").map((line) => lineLabel(sheet, step, line)).join(" / "),
  hold: ({ hold }, { sheet }) => sheet.holds?.find((one) => one.id === hold)?.title,
  reason: ({ reason }, { sheet }) =>
    sheet.cards?.find((one) => one.id === reason)?.title,
  id: ({ id }, context) => {
    const fault = context.state?.nonconformances.find((one) => one.id === id);
    return fault && faultTitle(fault, context);
  },
  until: ({ until }) => dayClockText(until),
  at: ({ at }) => dayClockText(at),
  subject: ({ subject }) => subjectTitle(subject),
  name: ({ subject, name }) => subject && model.titles[`${subject} ${name}`],
  field: ({ step, field }, { sheet }) => sheet.steps[step]?.fields
    ?.find((one) => one.id === field)?.label,
  part: ({ part }) => words.plan?.parts[part],
};

function factText(name, facts, context) {
  const value = facts[name] ?? FOUND[name]?.(facts, context);
  if (value === undefined) return "?";
  const special = FACTS[name]?.(facts, context);
  if (special !== undefined) return special;
  if (context.people[value]) return context.people[value].name;
  return context.sheet ? titleOf(context.sheet, value) : String(value);
}

// An act that a gate forbade says which step it was, not which of its gates.
function gatesOf({ step }, { sheet }) {
  const gates = Object.values(sheet?.points ?? {})
    .filter(({ shuts = [] }) => shuts.includes(step)).map(({ title }) => title);
  return gates.length ? gates.join(", ") : undefined;
}

function checkTitle(step, id) {
  return step?.checks?.find((one) => one.id === id)?.text
    ?? step?.fields?.find((one) => one.id === id)?.label;
}

// What a plan says of a time over says that it was met too late: until it was met, only
// that it is past.
function ratioText({ clocks = [] }, state, { step, check, line }) {
  const clock = clocks.find(({ start, ratios }) => start === step
    && ratios.some(({ id }) => id === check));
  const ratio = clock?.ratios.find(({ id }) => id === check);
  const { ended } = state?.clocks[line ? `${clock?.id}/${line}` : clock?.id] ?? {};
  return state && !ended ? ratio?.title : ratio?.text;
}
