// What the form of an item asks, how each answer is read, and what is signed of them.

import { dayText, wallMs } from "../../device/clock.js";
import { read as readPlain } from "../reading.js";
import { lastDayOf, readLastDay } from "./day.js";
import { idFor, plain } from "./naming.js";
import {
  lineOf, MOST_POINTS, partsOf, pointRows, pointsAsked, pointsIn, pointsSaid, settle,
  textOf,
} from "./points.js";
import { words } from "./words.js";

const text = words.entering;
const LONGEST = { label: 60, certificate: 200 };
const USES = "uses_max";
const MOST_USES = 9_999;
const AS_BEFORE = 1;
const ANEW = 2;

/**
 * The rows of a form. `was`: the item whose certificate is replaced; `mode`: "new",
 * "renew", "correct" or "out". A renewed certificate changes neither kind nor label;
 * of what is taken out of use only the reason is asked, and a photo if there is one.
 */
export function rowsFor({ known, was, mode, label, picker }) {
  const kind = was && known.kinds.find(({ id }) => id === was.kind);
  const rows = [];
  const why = { reason: true, picker, text: "", value: undefined };
  if (mode === "out") return [why, { photos: 0, hashes: [] }];
  if (mode !== "renew") rows.push(kindRow(known, was), labelRow(was?.label ?? label));
  rows.push(said("certificate", was && mode === "correct" ? partsOf(was).name : ""),
    dayRow(mode === "correct" ? was : undefined, known.zone));
  rows.push(...numberRows(kind, mode === "correct" ? was : undefined));
  rows.push({ photos: 0, hashes: [] });
  if (picker) rows.push(why);
  return rows;
}

function kindRow({ kinds }, was) {
  const options = kinds.map(({ id, title }) => ({ value: id, label: title }));
  return { text: "", value: was?.kind, field: { kind: "choice", id: "kind",
    label: words.register.kind, need: 1, options } };
}

function labelRow(value = "") {
  return said("label", value);
}

function said(id, value) {
  return { text: value, value: value || undefined, was: value, field: { kind: "text",
    id, label: words.register[id], need: 1 } };
}

function dayRow(was, zone) {
  const row = { day: true, text: "", field: { kind: "text", id: "expires",
    label: words.register.lastDay, need: 1, limit: text.dayForm } };
  if (was) setDay(row, was.expires, zone);
  return row;
}

/** Answer with a last day; undefined: the certificate has none. */
export function setDay(row, ends, zone) {
  Object.assign(row, { ends, fault: undefined, endless: ends === undefined,
    value: ends === undefined ? words.register.endless
      : dayText(lastDayOf(ends, zone)) });
  row.field.limit = ends <= wallMs() ? text.over : text.dayForm;
}

/** The rows for what a kind's certificates state; `was` fills them. */
export function numberRows(kind, was) {
  if (!kind) return [];
  const rows = kind.numbers.map((number) => {
    const bounds = number.id === USES ? { low: 1, high: MOST_USES } : {};
    return { text: "", number: number.id, value: was?.numbers[number.id],
      field: { ...number, ...bounds, kind: "number", label: text.number(number.id),
        need: 1 } };
  });
  if (!kind.calibration) return rows;
  const known = was ? pointsIn(was, kind) : [];
  const options = [{ value: AS_BEFORE, label: text.before },
    { value: ANEW, label: known.length ? text.change : text.anew }];
  if (was) {
    rows.push({ text: "", value: AS_BEFORE, field: { kind: "choice", id: "points",
      label: text.points, need: 1, options } });
    return rows;
  }
  return [...rows, ...pointRows(1, kind), ...pointRows(2, kind)];
}

/** Rows as another answer wants them: of another kind, of points, of one point more.
 * @param {{known:object, was?:object}} form a renewed certificate asks no kind */
export function rowsAfter(rows, changed, { known, was }) {
  const kind = known.kinds.find(({ id }) => id === kindOf(rows, was));
  const isNumber = (row) => row.number || row.point || row.field?.id === "points";
  const at = rows.findIndex((row) => row.hashes);
  if (changed.field?.id === "kind") {
    const others = rows.filter((row) => !isNumber(row));
    others.splice(others.findIndex((row) => row.hashes), 0, ...numberRows(kind));
    return others;
  }
  if (changed.field?.id === "points") {
    const others = rows.filter((row) => !row.point);
    const more = changed.value === ANEW ? pointsAsked(was, kind) : [];
    others.splice(others.findIndex((row) => row.hashes), 0, ...more);
    return others;
  }
  if (changed.point) settle(rows, changed);
  const points = rows.filter((row) => row.point);
  const place = points.at(-1)?.point;
  if (!place || place === MOST_POINTS || points.at(-1).value === undefined) {
    return rows;
  }
  return [...rows.slice(0, at), ...pointRows(place + 1, kind), ...rows.slice(at)];
}

function kindOf(rows, was) {
  return rows.find((row) => row.field?.id === "kind")?.value ?? was?.kind;
}

/** Read what was typed into a row: its `value`, or its `fault` in words. */
export function read(row, { known, was }) {
  row.fault = undefined;
  if (row.day) readDay(row, known.zone);
  else if (row.field?.kind === "number") readPlain(row);
  else if (row.field?.kind === "text") readText(row, known, was);
}

function readDay(row, zone) {
  row.value = undefined;
  row.endless = false;
  row.field.limit = text.dayForm;
  if (!row.text) return;
  const found = readLastDay(row.text, wallMs(), zone);
  if (found.ends === undefined) row.fault = text.fault[found.fault];
  else setDay(row, found.ends, zone);
}

function readText(row, { items }, was) {
  const { id } = row.field;
  readPlain(row);
  // What the site's files call it may be longer than what is typed here.
  if (!row.value || (was && row.value === row.was)) return;
  if ([...row.value].length > LONGEST[id]) row.fault = text.fault.long(LONGEST[id]);
  const other = id === "label" && items.find((item) => item.id !== was?.id
    && [item.label, item.id].some((name) => plain(name) === plain(row.value)));
  if (id === "label" && !plain(row.value)) row.fault = text.fault.label;
  if (other) row.fault = text.fault.taken(other.label);
  if (row.fault) row.value = undefined;
}

/**
 * What is signed of the rows, or why not yet.
 * @returns {{about:object|function, values:object, photos:string[]}
 *   |{fault:string, row?:object}}
 */
export function draftOf({ rows, known, was, mode }) {
  if (mode === "out") return takenOut(rows, was);
  const valueOf = (id) => rows.find((row) => row.field?.id === id)?.value;
  const [label, kindId] = [valueOf("label") ?? was?.label, kindOf(rows, was)];
  const kind = known.kinds.find(({ id }) => id === kindId);
  if (!kind || kind.unsayable) return { fault: text.fault.unsayable };
  const points = pointsSaid(rows);
  if (points.fault) return points;
  const line = points.rows.length ? lineOf(points, kind) : undefined;
  if (line?.fault) return line;
  const values = { ...(line ? line.numbers : carried(kind, was, rows)) };
  for (const { number, value } of rows) if (number) values[number] = value;
  const day = rows.find((row) => row.day);
  const table = line ? line.said : was && rows.some((row) =>
    row.field?.id === "points" && row.value === AS_BEFORE) ? partsOf(was).table
    : undefined;
  const about = { item: was?.id ?? idFor(kindId, label, known.items), kind: kindId,
    label, text: textOf({ name: valueOf("certificate"), table }) };
  if (day.ends !== undefined) about.expires = day.ends;
  if (was) about.replaces = was.entry;
  if (mode === "correct" && isSame(about, values, was)) {
    return { fault: text.fault.same };
  }
  const reason = rows.find((row) => row.reason)?.value;
  if (reason) about.reason = reason;
  return { about, values, photos: rows.find((row) => row.hashes).hashes };
}

// Out of use from this very moment: that it ends when it was stated says so. What its
// certificate says stays, as what was read on it does.
function takenOut(rows, { id, kind, label, numbers, entry }) {
  const { value } = rows.find((row) => row.reason);
  const about = (at) => ({ item: id, kind, label, text: value, expires: at,
    replaces: entry });
  return { about, values: numbers, photos: rows.find((row) => row.hashes).hashes };
}

// A calibration that was not typed anew is the one that was there.
function carried(kind, was, rows) {
  const keeps = rows.some((row) => row.field?.id === "points");
  if (!was || !kind.calibration || !keeps) return {};
  const { slope, intercept, low, high } = was.numbers;
  return { slope, intercept, low, high };
}

function isSame(about, values, was) {
  return about.kind === was.kind && about.label === was.label
    && about.text === was.text && about.expires === was.expires
    && JSON.stringify(Object.entries(values).sort())
      === JSON.stringify(Object.entries(was.numbers).sort());
}
