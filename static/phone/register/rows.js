// What the form of an item asks, how each answer is read, and what is signed of them.

import { dayText, wallMs } from "../../device/clock.js";
import { read as readPlain } from "../reading.js";
import { FORCE_PLACES, fitted } from "./calibration.js";
import { lastDayOf, readLastDay } from "./day.js";
import { idFor, plain } from "./naming.js";
import { words } from "./words.js";

const text = words.entering;
const LONGEST = { label: 60, certificate: 200 };
const POINTS = " | ";
const USES = "uses_max";
const MOST_USES = 9_999;
const AS_BEFORE = 1;
const ANEW = 2;
const MOST_POINTS = 30;
const MOST_BAR = 3_000;
const MOST_KN = 20_000;

/**
 * The rows of a form. `was`: the item whose certificate is replaced; `mode`: "new",
 * "renew" or "correct". A renewed certificate changes neither kind nor label.
 */
export function rowsFor({ known, was, mode, label, picker }) {
  const kind = was && known.kinds.find(({ id }) => id === was.kind);
  const rows = [];
  if (mode !== "renew") rows.push(kindRow(known, was), labelRow(was?.label ?? label));
  rows.push(said("certificate", was && mode === "correct" ? certificateOf(was) : ""),
    dayRow(mode === "correct" ? was : undefined, known.zone));
  rows.push(...numberRows(kind, mode === "correct" ? was : undefined));
  rows.push({ photos: 0, hashes: [] });
  if (picker) rows.push({ reason: true, picker, text: "", value: undefined });
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
  const options = [{ value: AS_BEFORE, label: text.before },
    { value: ANEW, label: text.anew }];
  if (was) {
    rows.push({ text: "", value: AS_BEFORE, field: { kind: "choice", id: "points",
      label: text.points, need: 1, options } });
    return rows;
  }
  return [...rows, ...pointRows(1, kind), ...pointRows(2, kind)];
}

/** The two rows of one point of a jack's certificate. */
export function pointRows(place, { calibration: { places } }) {
  const row = (sort, unit, digits, high) => ({
    text: "", value: undefined, point: place, sort, asked: place > 2,
    field: { kind: "number", id: `${sort}-${place}`, label: text[sort](place), unit,
      places: digits, low: 0, high: high * 10 ** digits, need: place > 2 ? 0 : 1,
      limit: place > 2 ? text.more : undefined },
  });
  return [row("pressure", "bar", places, MOST_BAR),
    row("force", "kN", FORCE_PLACES, MOST_KN)];
}

/** Rows as another answer wants them: of another kind, of points, of one point more. */
export function rowsAfter(rows, changed, known) {
  const kind = known.kinds.find(({ id }) => id === kindOf(rows));
  const isNumber = (row) => row.number || row.point || row.field?.id === "points";
  const at = rows.findIndex((row) => row.hashes);
  if (changed.field?.id === "kind") {
    const others = rows.filter((row) => !isNumber(row));
    others.splice(others.findIndex((row) => row.hashes), 0, ...numberRows(kind));
    return others;
  }
  if (changed.field?.id === "points") {
    const others = rows.filter((row) => !row.point);
    const more = changed.value === ANEW
      ? [...pointRows(1, kind), ...pointRows(2, kind)] : [];
    others.splice(others.findIndex((row) => row.hashes), 0, ...more);
    return others;
  }
  const points = rows.filter((row) => row.point);
  const place = points.at(-1)?.point;
  if (!place || place === MOST_POINTS || points.at(-1).value === undefined) {
    return rows;
  }
  // What was typed is on the certificate: it is not asked for as one more any longer.
  const [pressure, force] = points.slice(-2);
  for (const { field } of [pressure, force]) {
    Object.assign(field, { need: 1, limit: "" });
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

/** What the register's files call the certificate, without the points typed here. */
export function certificateOf({ text: told }) {
  return told.split(POINTS)[0];
}

/**
 * What is signed of the rows, or why not yet.
 * @returns {{about:object, values:object, photos:string[]}|{fault:string, row?:object}}
 */
export function draftOf({ rows, known, was, mode }) {
  const valueOf = (id) => rows.find((row) => row.field?.id === id)?.value;
  const [label, kindId] = [valueOf("label") ?? was?.label, kindOf(rows, was)];
  const kind = known.kinds.find(({ id }) => id === kindId);
  if (!kind || kind.unsayable) return { fault: text.fault.unsayable };
  const points = pointsOf(rows);
  if (points.fault) return points;
  const line = points.rows.length ? lineOf(points, kind) : undefined;
  if (line?.fault) return line;
  const values = { ...(line ? line.numbers : carried(kind, was, rows)) };
  for (const { number, value } of rows) if (number) values[number] = value;
  const day = rows.find((row) => row.day);
  const table = line ? line.said : was && rows.some((row) =>
    row.field?.id === "points" && row.value === AS_BEFORE) ? was.text.split(POINTS)[1]
    : undefined;
  const about = { item: was?.id ?? idFor(kindId, label, known.items), kind: kindId,
    label, text: [valueOf("certificate"), table].filter(Boolean).join(POINTS) };
  if (day.ends !== undefined) about.expires = day.ends;
  if (was) about.replaces = was.entry;
  if (mode === "correct" && isSame(about, values, was)) {
    return { fault: text.fault.same };
  }
  const reason = rows.find((row) => row.reason)?.value;
  if (reason) about.reason = reason;
  return { about, values, photos: rows.find((row) => row.hashes).hashes };
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

function pointsOf(rows) {
  const found = [];
  for (const row of rows.filter(({ sort }) => sort === "pressure")) {
    const force = rows.find((one) => one.point === row.point && one !== row);
    if ((row.value === undefined) !== (force.value === undefined)) {
      return { fault: text.fault.pair, row: row.value === undefined ? row : force };
    }
    if (row.value !== undefined) found.push([row, force]);
  }
  return { rows: found };
}

function lineOf({ rows }, { calibration: { places, residual } }) {
  const found = fitted(rows.map((pair) => pair.map(({ value }) => value)), places);
  if (found.fault) {
    return { fault: text.fault[found.fault], row: rows[found.at]?.[0] };
  }
  const said = (off) => String(off / 100);
  if (found.off > residual) {
    return { fault: text.fault.fit(said(found.off), said(residual)) };
  }
  return { ...found, residual, said: rows.map(([pressure, force]) =>
    `${pressure.value / 10 ** places} bar ${force.value / 10 ** FORCE_PLACES} kN`)
    .join("; ") };
}
