// Everything a release rests on, laid out for whoever signs: first what is out of
// limits, late, copied, corrected or lacking, then the photos, then one line for each
// step whose readings are all within their limits. One tap unfolds every reading.
// Nothing that is not as it should be is ever folded.

import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { fieldLimit, shownLimit } from "./limits.js";
import { model } from "./model.js";
import { computedText, quantityText } from "./numbers.js";
import { button, h } from "./parts.js";
import { photosOf } from "./photos.js";
import { otherArmHeard } from "./sighting.js";
import {
  checkText, failureTexts, lineLabel, personName, refusalText, shownFigures,
  stateBadge, valueText,
} from "./speak.js";
import { words } from "./words.js";

const text = words.point;

export { askNext } from "./reviews.js";

let unfolded = "";

/**
 * @param {object} open the open subject @param {string} point its id
 * @param {() => void} draw shows the screen again @returns {HTMLElement[]}
 */
export function whatItRestsOn(open, point, draw) {
  const said = open.sheet.points[point];
  const { steps } = open.state;
  const covered = said.covers.filter((step) => steps[step]?.status !== "off");
  const all = unfolded === `${open.subject}/${point}`;
  const shown = covered.filter((step) => all || isOpen(open, step));
  const folded = all ? [] : covered.filter((step) => !wholly(open, step));
  const names = namesOf(folded.flatMap((step) => within(open, step)));
  // One person's name need not be read with every step.
  const by = names.length === 1 ? names : [];
  return [
    h("h2", {}, text.rests),
    ...demands(said, open.state.points[point], all),
    ...otherArmHeard(open, point),
    ...shown.map((step) => stepBlock(open, step, all)),
    ...(all ? [] : covered.map((step) => photosBlock(open, step))),
    folded.length ? h("h3.within", {}, icon("tick"),
      [text.within, ...by].join(" \u00b7 ")) : null,
    ...folded.map((step) => foldedBlock(open, step, by.length === 0)),
    covered.length ? button("plain", {
      mark: all ? "dash" : "plus", id: "unfold", label: all ? text.fold : text.unfold,
      "aria-expanded": all ? "true" : "false",
      onclick: () => { unfolded = all ? "" : `${open.subject}/${point}`; draw(); },
    }) : null,
  ];
}

// What is not met stands above, where the gate says why it is not ready.
function demands(said, found, all) {
  const unmet = new Set((found.refusals ?? []).map((one) => one.facts?.requirement));
  return (said.requires ?? []).filter(({ id }) => !unmet.has(id)).map((one) =>
    h("p.demand.good", {}, icon("tick"), one.text,
      all && one.source ? h("small", {}, ` (${one.source})`) : null));
}

function isOpen(open, step) {
  const { status, failed, cautions, lines } = open.state.steps[step];
  const read = Object.values(lines);
  return status !== "done" || failed.length + cautions.length > 0
    || read.some((one) => isExceptional(open, step, one));
}

// Nothing of it is left to be folded.
function wholly(open, step) {
  const { lines, status } = open.state.steps[step];
  const read = Object.values(lines);
  return read.length === 0 ? status !== "done"
    : read.every((one) => isExceptional(open, step, one));
}

function isExceptional({ sheet, state, entries }, step, read) {
  const own = new Set(read.entries);
  return read.status !== "ok" || read.failed.length + read.cautions.length > 0
    || own.size > 1 || (state.flags ?? []).some(({ entry }) => own.has(entry))
    || entries.some(({ id, kind }) => own.has(id) && kind !== "done")
    || (sheet.steps[step].fields ?? []).some((field) => isBad(field, read));
}

function isBad({ kind, id, options = [] }, { values }) {
  const chosen = options.find((one) => one.value === values[id]);
  return kind === "choice" && chosen && !chosen.good
    && options.some(({ good }) => good);
}

function stepBlock(open, step, all) {
  const { sheet, state } = open;
  const found = state.steps[step];
  const none = Object.keys(found.lines).length === 0;
  // What may be read as well has not been done for that: so says the column.
  const status = none && found.status === "done" ? "idle" : found.status;
  return h("article.rest", { "data-rest": step },
    h("h3", {}, sheet.steps[step].title, " ", stateBadge(status)),
    none ? h("p.hint", {}, text.nothing) : null,
    ...Object.entries(found.lines)
      .filter(([, read]) => all || isExceptional(open, step, read))
      .map(([line, read]) => lineTable(open, step, line, read)),
    ...shownFigures(sheet, step, found.shows).map((one) => h("p.figure", {}, one)),
    ...marks(sheet, step, found));
}

function lineTable(open, step, line, read) {
  const { sheet, entries } = open;
  const said = sheet.steps[step];
  const fields = (said.fields ?? []).filter((one) => read.values[one.id] !== undefined);
  const label = said.series ? "" : lineLabel(sheet, step, line);
  const limit = (field) => fieldLimit(open, step, line, field) || field.limit;
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
    ...shownFigures(sheet, step, read.shows).map((one) => h("p.figure", {}, one)),
    photosOf(entries.filter((one) => read.entries.includes(one.id))),
    ...marks(sheet, step, read), ...told(open, read));
}

// How an entry came to be what it is: copied, late, corrected, read again.
function told({ sheet, state, entries }, { entries: own }) {
  const kinds = entries.filter(({ id, kind }) => own.includes(id) && kind !== "done")
    .map(({ kind, about }) => [words.entry[kind] ?? kind, about.reason, about.writer]
      .filter(Boolean).join(": "));
  const flagged = (state.flags ?? []).filter(({ entry }) => own.includes(entry))
    .map(({ entry, code }) => (code === "late"
      ? words.line.late(dayClockText(entries.find(({ id }) => id === entry)?.made))
      : words.entry[code] ?? refusalText({ code }, sheet)));
  const again = own.length > 1 && kinds.length === 0 ? [words.joint.again] : [];
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

// Photos of what is folded; those of an exception stand with it.
function photosBlock(open, step) {
  const read = Object.values(open.state.steps[step].lines)
    .filter((one) => !isExceptional(open, step, one)).flatMap((one) => one.entries);
  const photos = photosOf(open.entries.filter(({ id }) => read.includes(id)));
  return photos && h("article.rest", { "data-photos": step },
    h("h3", {}, icon("photo"), open.sheet.steps[step].title), photos);
}

function within(open, step) {
  return Object.entries(open.state.steps[step].lines)
    .filter(([, one]) => !isExceptional(open, step, one));
}

function foldedBlock(open, step, named) {
  const { sheet } = open;
  const said = sheet.steps[step];
  const lines = within(open, step);
  const facts = lines.length === 0 ? [text.nothing] : [
    lines.length > 1 ? text.lines(lines.length) : "",
    ...(said.fields ?? []).map((field) => fieldText(open, step, field, lines)),
    goodText(said, lines),
    ...(said.shows ?? []).map((show) => showText(open, step, show, lines)),
  ].filter(Boolean);
  return h("article.rest.folded", { "data-rest": step },
    h("p", {}, h("b", {}, said.title), facts.length ? ": " : "",
      facts.join(" \u00b7 "),
      lines.length ? h("span.restwho", {}, `, ${byWhom(lines, named)}`) : null));
}

// Choices that are all the good one are counted; what they were stands one tap away.
function goodText({ fields = [] }, lines) {
  const count = lines.flatMap(([, { values }]) => fields.filter((field) =>
    isYes(field) && values[field.id] !== undefined)).length;
  return count ? text.good(count) : "";
}

function isYes({ kind, options = [] }) {
  return kind === "choice" && options.some(({ good }) => good)
    && options.some(({ good }) => !good);
}

function fieldText(open, step, field, lines) {
  const values = lines.map(([, { values: all }]) => all[field.id])
    .filter((value) => value !== undefined);
  if (values.length === 0 || isYes(field)) return "";
  if (field.kind !== "number") {
    const said = [...new Set(values)].map((one) => valueText(open.sheet, field, one));
    return said.length > 2 ? `${said[0]} \u2026 ${said.at(-1)}` : said.join(", ");
  }
  const limits = lines.map(([line]) => fieldLimit(open, step, line, field));
  const figures = span(values, (one, unit) =>
    quantityText(one, unit && field.unit, field.places));
  return `${field.label} ${figures}${bracket(limits, field.limit)}`;
}

function showText(open, step, show, lines) {
  const { shows } = open.state.steps[step];
  const values = show.scope === "line" ? lines.map(([, read]) => read.shows?.[show.id])
    : [shows?.[show.id]];
  const known = values.filter((value) => value !== undefined);
  const limits = (show.scope === "line" ? lines : [[""]]).map(([line]) =>
    shownLimit(open, step, line, show));
  if (known.length === 0) return "";
  const figures = span(known, (one, unit) =>
    computedText(one, { ...show, unit: unit && show.unit }));
  return `${show.label} ${figures}${bracket(limits)}`;
}

function span(values, said) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return low === high ? said(low, true)
    : `${said(low, false)}\u2013${said(high, true)}`;
}

// Lines with limits of their own, as rounds have, name none together.
function bracket(limits, other) {
  const [one, ...rest] = new Set(limits);
  const said = rest.length ? text.each : one || other;
  return said ? ` (${said})` : "";
}

function namesOf(lines) {
  return [...new Set(lines.map(([, { person }]) => personName(model.people, person)))];
}

function byWhom(lines, named) {
  const times = lines.map(([, { at }]) => at);
  const ends = [...new Set([Math.min(...times), Math.max(...times)].map(dayClockText))];
  return [ends.join("\u2013"), named ? namesOf(lines).join(", ") : ""].filter(Boolean)
    .join(" \u00b7 ");
}
