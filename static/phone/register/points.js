// The points of a jack's certificate in the form of an item: how they are asked, taken
// up from what a phone entered before, and told. They make a line; nothing is guessed.

import { FORCE_PLACES, fitted } from "./calibration.js";
import { words } from "./words.js";

const text = words.entering;
/** What stands between a certificate's name and its table of points. */
const BETWEEN = " | ";
const POINT = String.raw`([\d.]+) bar ([\d.]+) kN`;
const TOLD = new RegExp(`^(.*?)(?: \\| (${POINT}(?:; ${POINT})*))?$`, "s");
export const MOST_POINTS = 30;
const FEWEST = 2;
const MOST_BAR = 3_000;
const MOST_KN = 20_000;

/** The two rows of one point; `known` fills them. */
export function pointRows(place, { calibration: { places } }, known) {
  const isMore = place > FEWEST && !known;
  const row = (sort, unit, digits, high) => ({
    text: "", value: known?.[sort], point: place, sort, asked: isMore,
    field: { kind: "number", id: `${sort}-${place}`, label: text[sort](place), unit,
      places: digits, low: 0, high: high * 10 ** digits,
      need: isMore ? 0 : 1, limit: isMore ? text.more : undefined },
  });
  return [row("pressure", "bar", places, MOST_BAR),
    row("force", "kN", FORCE_PLACES, MOST_KN)];
}

/** The rows of a certificate to be corrected: its points as a phone entered them, with
 * room for one more. Those of the site's files are not on the phone. */
export function pointsAsked(was, kind) {
  const known = pointsIn(was, kind);
  const count = Math.min(Math.max(known.length + 1, FEWEST), MOST_POINTS);
  const rows = Array.from({ length: count }, (_, place) =>
    pointRows(place + 1, kind, known[place])).flat();
  for (const row of rows) if (known.length) row.asked = false;
  return rows;
}

/** A point is whole or not on the certificate; what was typed too much is erased. */
export function settle(rows, { point }) {
  const pair = rows.filter((row) => row.point === point);
  const isGiven = pair.some(({ value }) => value !== undefined);
  for (const { field } of point > FEWEST ? pair : []) {
    Object.assign(field, { need: isGiven ? 1 : 0, limit: isGiven ? "" : text.more });
  }
}

/** What an item's text says: what its certificate is called, and the table of points,
 * if a phone entered it. @returns {{name:string, table:string}} */
export function partsOf({ text: told }) {
  const [, name, table = ""] = TOLD.exec(told);
  return { name, table };
}

/** The text of an item from such parts. */
export function textOf({ name, table }) {
  return [name, table].filter(Boolean).join(BETWEEN);
}

/** @returns {{pressure:number, force:number}[]} as a certificate was entered with, in
 *   the whole numbers of the form */
export function pointsIn(was, { calibration: { places } }) {
  const whole = (typed, digits) => Math.round(Number(typed) * 10 ** digits);
  const found = partsOf(was).table.matchAll(new RegExp(POINT, "g"));
  return [...found].map(([, bar, force]) =>
    ({ pressure: whole(bar, places), force: whole(force, FORCE_PLACES) }));
}

/** The points of a form as pairs of rows, or why not yet. */
export function pointsSaid(rows) {
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

/** The line of such pairs and what is told of them, or why there is none. */
export function lineOf({ rows }, { calibration: { places, residual } }) {
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
