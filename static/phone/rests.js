// Everything a release rests on, laid out for whoever signs: first what is out of
// limits, late, copied, corrected or lacking, then a row for each step with what is
// within its limits. One tap unfolds every reading. Nothing that is not as it should be
// is ever folded.

import { addsPhoto } from "../core/entries.js";
import { dayClockText } from "../device/clock.js";
import { earlyTexts } from "./backwards.js";
import { cameBefore } from "./course.js";
import { replaced } from "./facts.js";
import { demandedFigures } from "./figures.js";
import { stepBadge } from "./folds.js";
import { hangingNote } from "./hanging.js";
import { icon } from "./icons.js";
import { endsText, fieldLimit, isBeyond, shownEnds, worth } from "./limits.js";
import { model } from "./model.js";
import { outNote } from "./outofuse.js";
import "./named.js";
import { button, h } from "./parts.js";
import { photosOf } from "./photos.js";
import { otherArmHeard } from "./sighting.js";
import {
  checkText, failureTexts, lineLabel, personName, refusalText, shownFigures,
  stateBadge, valueText,
} from "./speak.js";
import { ageAsked } from "./turns.js";
import { instruments, namesOf, withinRows } from "./within.js";
import { words } from "./later.js";

const text = words.point;

export { askNext } from "./reviews.js";

let unfolded = "";

/**
 * @param {object} open the open subject @param {string} point its id
 * @param {() => void} draw shows the screen again @returns {HTMLElement[]}
 */
export function whatItRestsOn(open, point, draw) {
  const said = open.sheet.points[point];
  const musts = (said.requires ?? []).map(({ must }) => must);
  const { steps } = open.state;
  const covered = said.covers.filter((step) => steps[step]?.status !== "off");
  const all = unfolded === `${open.subject}/${point}`;
  const shown = covered.filter((step) => all || isOpen(open, step)
    || beyond(open, point, step).length > 0);
  const rows = all ? [] : covered.map((step) => [step, within(open, step)])
    .filter(([, lines]) => lines.length > 0);
  const first = [...cameBefore(open, point), ...demands(open, point, rows, all),
    ...otherArmHeard(open, point, all),
    ...shown.map((step) =>
      stepBlock(open, step, all, beyond(open, point, step), musts))];
  // Where all is within its limits, one heading says both.
  const heading = first.length || rows.length === 0 ? h("h2", {}, text.rests) : null;
  return [
    outNote(open, point), hangingNote(open, point), heading, ...first,
    ...withinLimits(open, said, rows, heading ? "h3" : "h2"),
    covered.length ? button("plain", {
      mark: all ? "dash" : "plus", id: "unfold", label: all ? text.fold : text.unfold,
      "aria-expanded": all ? "true" : "false",
      onclick: () => { unfolded = all ? "" : `${open.subject}/${point}`; draw(); },
    }) : null,
  ];
}

function withinLimits(open, { requires = [] }, rows, level) {
  if (rows.length === 0) return [];
  const names = namesOf(rows.flatMap(([, lines]) => lines));
  // One person's name need not be read with every step.
  const [by] = names.length === 1 ? names : [];
  const used = instruments(open.sheet, rows);
  return [
    h(`${level}.within`, {}, icon("tick"), text.within,
      by ? h("span.restwho", {}, by) : null),
    ...withinRows(open, rows, {
      named: !by, demands: requires.map(({ must }) => must),
      photos: (lines) => photosOf(open.entries.filter(({ id }) =>
        lines.some(([, { entries }]) => entries.includes(id)))),
    }),
    used.length ? h("p.rest.fact", {}, `${words.rests.used}: ${used.join(" \u00b7 ")}`)
      : null,
  ];
}

// What is not met stands above, where the gate says why it is not ready; what bounds a
// figure below stands there beside it.
function demands(open, point, rows, all) {
  const { sheet, state } = open;
  const unmet = new Set((state.points[point].refusals ?? [])
    .map((one) => one.facts?.requirement));
  const told = rows.flatMap(([step]) => (sheet.steps[step].shows ?? [])
    .filter(({ id }) => state.steps[step].shows?.[id] !== undefined)
    .map(({ value }) => value));
  const single = rows.filter(([, lines]) => lines.length === 1).map(([step]) => step);
  const isTold = (must) => {
    if (single.includes(ageAsked(sheet, must)?.step)) return true;
    const { word, value, low, high } = sheet.conditions?.[must] ?? must;
    return word === "between" && told.includes(value)
      && [low, high].every((one) => one === undefined || typeof one === "number");
  };
  const left = (sheet.points[point].requires ?? [])
    .filter(({ id, must }) => !unmet.has(id) && !isTold(must));
  // Ticked by its figure, where it has one.
  const figured = left.filter(({ show }) => show
    && worth(open, show.value, "") !== undefined);
  return [...demandedFigures(open, figured),
    ...left.filter((one) => all || !figured.includes(one)).map((one) =>
      h("p.demand.good", {}, icon("tick"), one.text,
        all && one.source ? h("small", {}, ` (${one.source})`) : null))];
}

// What is computed of a step and lies beyond its bounds stands above, though each
// reading by itself is within its own.
function beyond(open, point, step) {
  const demands = (open.sheet.points[point].requires ?? []).map(({ must }) => must);
  return (open.sheet.steps[step].shows ?? []).filter((show) =>
    isBeyond(open, step, show, demands)).map(({ id }) => id);
}

function isOpen(open, step) {
  const { status, failed, cautions, lines } = open.state.steps[step];
  return status !== "done" || failed.length + cautions.length > 0
    || Object.entries(lines).some((one) => isExceptional(open, step, one));
}

function isExceptional(open, step, [line, read]) {
  const { sheet, state, entries } = open;
  const own = new Set(read.entries);
  return read.status !== "ok" || earlyTexts(open, step, line).length > 0
    || read.failed.length + read.cautions.length > 0
    || own.size > 1 || (state.flags ?? []).some(({ entry }) => own.has(entry))
    || entries.some(({ id, kind }) => own.has(id) && kind !== "done")
    || (sheet.steps[step].fields ?? []).some((field) => isBad(field, read));
}

function isBad({ kind, id, options = [] }, { values }) {
  const chosen = options.find((one) => one.value === values[id]);
  return kind === "choice" && chosen && !chosen.good
    && options.some(({ good }) => good);
}

function stepBlock(open, step, all, over, demands) {
  const { sheet, state } = open;
  const found = state.steps[step];
  const none = Object.keys(found.lines).length === 0;
  // What may be read as well has not been done for that: so says the column.
  const status = none && found.status === "done" ? "idle" : found.status;
  return h("article.rest", { "data-rest": step },
    h("h3", {}, sheet.steps[step].title, " ", stepBadge(found, status,
      sheet.steps[step])),
    none ? h("p.hint", {}, text.nothing) : null,
    ...Object.entries(found.lines)
      .filter((one) => all || isExceptional(open, step, one))
      .map(([line, read]) => lineTable(open, step, line, read, demands)),
    // Of what is left to be folded, the figures stand there.
    ...figures(open, [step, "", demands],
      all || within(open, step).length === 0 ? found.shows
        : Object.fromEntries(over.map((id) => [id, found.shows[id]]))),
    ...marks(sheet, step, found));
}

function lineTable(open, step, line, read, demands) {
  const { sheet, entries } = open;
  const said = sheet.steps[step];
  const fields = (said.fields ?? []).filter((one) => read.values[one.id] !== undefined);
  const label = said.series ? "" : lineLabel(sheet, step, line);
  const limit = (field) =>
    fieldLimit(open, step, line, field, read.values) || field.limit;
  return h("div.restline", {},
    h("p.restwho", {},
      [label, dayClockText(read.at), personName(model.people, read.person)]
        .filter(Boolean).join(" \u00b7 "),
    read.status === "ok" ? null : stateBadge(read.status)),
    h("dl", {}, ...fields.flatMap((one) => [
      h("dt", {}, one.label, limit(one)
        ? h("small", {}, ` ${text.limit}: ${limit(one)}`) : null),
      h("dd", {}, valueText(sheet, one, read.values[one.id])),
    ])),
    ...figures(open, [step, line, demands], read.shows),
    photosOf(entries.filter((one) => read.entries.includes(one.id))),
    ...marks(sheet, step, read), ...told(open, step, read),
    ...earlyTexts(open, step, line).map((said) =>
      h("p.careful", {}, icon("warn"), said)));
}

// What is computed has its limit beside it like what is read.
function figures(open, [step, line, demands], shows = {}) {
  return (open.sheet.steps[step].shows ?? []).flatMap((show) => {
    const limit = endsText(shownEnds(open, step, line, show, demands));
    return shownFigures(open.sheet, step, { [show.id]: shows[show.id] }).map((one) =>
      h("p.figure", {}, one,
        limit ? h("small", {}, ` ${text.limit}: ${limit}`) : null));
  });
}

// How an entry came to be what it is: copied, late, corrected, read again.
function told({ sheet, state, entries }, step, { entries: own }) {
  const kinds = entries.filter(({ id, kind }) => own.includes(id) && kind !== "done")
    .map((entry) => (addsPhoto(entry) ? words.photo.added
      : [words.entry[entry.kind] ?? entry.kind, ...replaced(sheet, step, entry,
        entries.filter(({ id }) => own.indexOf(id) < own.indexOf(entry.id)
          && own.includes(id))), entry.about.reason, entry.about.writer]
        .filter(Boolean).join(": ")));
  // What its kind says already need not be said again.
  const flagged = (state.flags ?? []).filter(({ entry, code }) =>
    own.includes(entry) && code !== "correction")
    .map(({ entry, code }) => (code === "late"
      ? words.line.late(dayClockText(entries.find(({ id }) => id === entry)?.made))
      : words.entry[code] ?? refusalText({ code }, sheet)));
  const again = own.length > 1 && kinds.length === 0 ? [text.again] : [];
  return [...new Set([...kinds, ...flagged, ...again])].map((one) =>
    h("p.careful", {}, icon("warn"), one));
}

function marks(sheet, step, found) {
  const { cautions } = found;
  return [
    ...failureTexts(sheet, step, found).map((one) =>
      h("p.bad", {}, icon("cross"), one)),
    ...cautions.map((id) =>
      h("p.careful", {}, icon("warn"), checkText(sheet, step, id))),
  ];
}

function within(open, step) {
  return Object.entries(open.state.steps[step].lines)
    .filter((one) => !isExceptional(open, step, one));
}
