// What a nonconformance is about, for whoever decides it: the figure beside its limit,
// when and by whom it was recorded, and the way to the entry.

import { clockTimes } from "./course.js";
import { icon } from "./icons.js";
import { endsText, fieldLimit, shownEnds, spanOf } from "./limits.js";
import { computedText } from "./numbers.js";
import { button, h } from "./parts.js";
import { restsOn } from "./reading.js";
import { readSince } from "./since.js";
import { byWhom, lineLabel, valueText } from "./speak.js";
import { words } from "./later.js";

/** @returns {HTMLElement|null} of one nonconformance of the open subject */
export function whatFailed(open, fault, go) {
  const { sheet, subject } = open;
  const { step, line = "" } = fault;
  const entry = open.entries.find(({ id }) => id === fault.entry);
  const read = open.state.steps[step]?.lines[line];
  if (!entry && !sheet.steps[step]) return null;
  return h("article.rest", { "data-about": fault.id },
    entry ? h("p.restwho", {}, byWhom(entry)) : null,
    entry?.about.reason ? h("p", {}, entry.about.reason) : null,
    ...(sheet.steps[step] ? [
      h("dl", {}, ...figures(open, fault, entry)), ...computed(open, fault),
      ...clocks(open, fault).map((said) => h("p.fact", {}, said)),
      ...readSince(open, fault, fieldsOf(open, fault, entry)),
    ] : []),
    read ? button("plain", {
      mark: "pen", label: [sheet.steps[step].title, lineLabel(sheet, step, line)]
        .filter(Boolean).join(" \u00b7 "), note: words.line.history, "data-entry": line,
      onclick: () => go(`/line/${subject}/${step}/${line || "-"}`),
    }) : null);
}

function valuesOf({ state }, { step, line = "" }, entry) {
  const read = state.steps[step].lines[line];
  return { ...(read?.entries.includes(entry?.id) ? read.values : {}),
    ...entry?.values };
}

// What the failed check rests on, else what the entry says.
function fieldsOf(open, fault, entry) {
  const { step, check } = fault;
  const { checks = [], fields = [] } = open.sheet.steps[step];
  const values = valuesOf(open, fault, entry);
  const said = checks.find(({ id }) => id === check);
  const known = fields.filter(({ id }) => values[id] !== undefined);
  const about = known.filter((field) => field.id === check
    || (said && restsOn(open, step, said, field)));
  return about.length ? about : known;
}

function figures(open, fault, entry) {
  const { step, line = "" } = fault;
  const values = valuesOf(open, fault, entry);
  return fieldsOf(open, fault, entry).flatMap((field) => {
    const limit = fieldLimit(open, step, line, field, values) || field.limit;
    return [h("dt", {}, field.label, limit
      ? h("small", {}, ` ${words.point.limit}: ${limit}`) : null),
    h("dd", {}, isOut(open, step, line, field, values) ? icon("cross") : null,
      valueText(open.sheet, field, values[field.id]))];
  });
}

function isOut(open, step, line, field, values) {
  if (field.kind !== "number" || !open.scene) return false;
  const entries = (open.sheet.steps[step].fields ?? [])
    .map((one) => ({ field: one, value: values[one.id] }));
  const { low, high } = spanOf({ open, step, line, entries, read: true }, field) ?? {};
  return values[field.id] < low || values[field.id] > high;
}

// A figure worked out from what was read, beside what bounds it.
function computed(open, { step, line = "" }) {
  const { shows = [] } = open.sheet.steps[step];
  const found = open.state.steps[step];
  return shows.flatMap((show) => {
    const where = show.scope === "line" ? line : "";
    const value = (where ? found.lines[line] : found).shows?.[show.id];
    const limit = endsText(shownEnds(open, step, where, show));
    return value === undefined || !limit ? []
      : h("p.figure", {}, `${show.label}: ${computedText(value, show)}`,
        h("small", {}, ` ${words.point.limit}: ${limit}`));
  });
}

function clocks(open, { code, step, line = "", check }) {
  return code !== "clock_over" ? [] : open.sheet.clocks
    .filter(({ start, ratios }) => start === step
      && ratios.some(({ id }) => id === check))
    .flatMap((clock) => clockTimes(open, clock, line));
}
