// A sheet of paper that is being copied: the next form takes over that it is, who wrote
// it, its photo and its day, until somebody says otherwise. Meanwhile no tap records
// anything as of now. It is kept with the shift: after the browser ended, or in another
// shift of the same day, somebody is asked, and nobody copies on by mistake.

import { wallMs } from "../device/clock.js";
import { dropMeta, putMeta } from "../device/database.js";
import { model } from "./model.js";
import { button, h } from "./parts.js";
import { words } from "./words.js";

const text = words.form;
const PLACE = "copying";
/** A clock over for so long runs on paper, or nowhere: nobody counts its minutes. */
export const LONG_PAST_MS = 60 * 60_000;
/** What was recorded so long after it was done comes from paper or from memory. */
const LATE_MS = 15 * 60_000;

/** The sheet in hand for a subject. @returns {{writer:string, at:number,
 *   hashes:string[]}|undefined} `at` is the time last copied, `hashes` its photos */
export function copyingOf({ subject }) {
  const sheet = model.copying;
  const goesOn = sheet?.goesOn && sheet.shift === shiftNow();
  return goesOn && sheet.subject === subject ? sheet : undefined;
}

/** @returns {string} which shift runs */
export function shiftNow() {
  return model.shift ? `${model.shift.person} ${model.shift.until}` : "";
}

/** Note what a form that was saved said of paper; one that could not say changes
 * nothing. @param {object} form @param {object} entry as signed
 * @returns {Promise<void>} kept before any screen says so */
export async function noteCopying({ open, entries }, entry) {
  const paper = entries.find((one) => one.paper);
  if (!paper) return;
  const { hashes, photos } = entries.find((one) => one.hashes);
  // A photo that the step itself wants shows something else than the sheet.
  await hold(paper.value ? {
    subject: open.subject, writer: paper.text, at: entry.at,
    hashes: photos ? copyingOf(open)?.hashes ?? [] : [...hashes],
  } : undefined);
}

/** It outlives the browser; that it goes on, somebody says anew after that. */
export function hold(sheet) {
  const kept = sheet && { ...sheet, shift: shiftNow(), noted: wallMs() };
  model.copying = kept && { ...kept, goesOn: true };
  return (kept ? putMeta(PLACE, kept) : dropMeta(PLACE)).catch(reportError);
}

/** The key that ends copying, while it goes on. @returns {HTMLElement|null} */
export function copyingKey(open, draw) {
  return copyingOf(open) ? button("plain", {
    mark: "pen", label: text.copying, note: text.copyingEnd, id: "copying",
    onclick: () => hold(undefined).then(draw),
  }) : null;
}

/** Whether a step is shut only because its releases have run out since. */
export function onlyExpired(refusals) {
  return refusals.length > 0 && refusals.every(({ code }) => code === "gate_expired");
}

/**
 * Past a gate that shut again something happened anyway, or was done in time and is
 * written down only now: a key for each. @param {HTMLElement} anyway the one
 */
export function besideAnyway(anyway, refusals, step, go) {
  return onlyExpired(refusals) ? h("div.pair", {}, button("main", {
    mark: "pen", label: text.inTime, id: "in-time", "data-step": step, onclick: go,
  }), anyway) : anyway;
}

/** When a race's next act is asked for: now, or when the sheet in hand was at. */
export function askedAt(open) {
  return copyingOf(open)?.at ?? wallMs();
}

/** Whether anybody recorded the race as it happens since a sheet was in hand. A reading
 * may be taken before it begins: `reads` says that one counts as well. */
export function raceRuns({ sheet, entries }, since, reads = false) {
  return entries.some(({ kind, step, made, at }) => kind !== "copied" && made > since
    && made - at <= LATE_MS && sheet.steps[step]?.class === "raced"
    && (reads || !sheet.steps[step].series));
}

/**
 * The deadlines of a running clock that are told, to come or over. Not told is one that
 * was past already when what began the clock was written down later: the rules count it
 * as over, but only because its end is not written down yet, and nobody has minutes in
 * hand. That is so long after it; and at once while its sheet is being copied and
 * nobody records the race as it happens. A deadline still ahead when that was written
 * down is live, whoever copied it: a race that another phone takes over keeps them all.
 * @param {object} open @param {object} minutes as `minutesInHand` gives them
 * @param {number} now @returns {object[]}
 */
export function toldDeadlines(open, { startStep, deadlines }, now) {
  return deadlines.filter(({ at }) => isTold(open, { step: startStep, at }, now));
}

/** The same of one deadline, of a step's first line if none is named. */
export function isTold(open, { step, line, at }, now) {
  const began = beganBy(open, step, line);
  if (!began || !isLater(began) || at > began.made) return true;
  return now - at < LONG_PAST_MS && (copyingOf(open) === undefined
    || isSpent(open, step, line) || raceRuns(open, began.made, true));
}

// A clock that is renewed has no lines: its last reading began it.
function beganBy({ state, entries }, step, line) {
  const found = state.steps[step]?.lines ?? {};
  const all = Object.values(found).sort((a, b) => a.at - b.at);
  const began = found[line] ?? (line === "" ? all.at(-1) : all[0]);
  return entries.find(({ id }) => id === began?.entry);
}

// A reading above the table ends a life at once: that is past by no paper's lateness.
function isSpent({ sheet, state }, step, line) {
  return sheet.clocks.some(({ id, start }) => start === step
    && state.clocks[line ? `${id}/${line}` : id]?.alarm === "above");
}

/** Whether a clock runs of which no deadline is told: its end is written down later. */
export function isWrittenLater(open, minutes, now) {
  return minutes.deadlines.length > 0
    && toldDeadlines(open, minutes, now).length === 0;
}

/** Whether an entry was written down well after it was done. */
export function isLater({ kind, made, at }) {
  return kind === "copied" || made - at > LATE_MS;
}

/** Whether a time over is over only as far as its end is not copied yet. */
export function endsLater(fault, { sheet, state }) {
  if (fault.code !== "clock_over") return false;
  const { step, check, line } = fault;
  const clocks = (sheet.clocks ?? []).filter(({ start, ratios }) => start === step
    && ratios.some(({ id }) => id === check));
  return clocks.some(({ id }) =>
    state.clocks?.[line ? `${id}/${line}` : id]?.ended === 0);
}
