// The form's answers: what is asked, and what is signed of them.

import { knownItems, taking } from "./items.js";
import { copyingOf, onlyExpired } from "./copying.js";
import { isAskedHere } from "./reading.js";
import { photosMissing } from "./speak.js";
import { words } from "./words.js";

/** How a form begins. At a shut gate it happened anyway, read again as well; but what
 * is copied from a sheet in hand may have been done before the release ran out: its
 * time tells. */
export function modeOf({ open, step, mode, shut }) {
  if (!shut || (mode && mode !== "again")) return mode;
  const { refusals } = open.state.steps[step];
  return onlyExpired(refusals) && copyingOf(open) ? "paper" : "anyway";
}

/** The answers a form asks for, in order; the last states the time. */
export function answersFor(open, step, line, mode) {
  const said = open.sheet.steps[step];
  const found = open.state.steps[step].lines[line];
  const photos = { photos: mode === "correct" ? 0 : said.photos ?? 0, hashes: [] };
  if (mode === "photo") {
    return [{ ...photos, photos: Math.max(1, photosMissing(open, step, line)) }];
  }
  const rows = (said.fields ?? []).map((field) => {
    const was = mode === "correct" ? found?.values[field.id] : undefined;
    const value = mode === "correct" ? was
      : taking().takenOver?.(open, step, line, field);
    return { field, text: "", was, value,
      asked: mode !== "correct" && isAskedHere(open, step, line, field) };
  });
  const sheet = mode === "correct" ? undefined : copyingOf(open);
  const when = { when: true, text: "", near: sheet?.at };
  if (sheet && !photos.photos) photos.hashes.push(...sheet.hashes);
  if (mode === "correct") return [...rows, photos, when];
  return [...rows, photos,
    { paper: true, value: Boolean(sheet) || mode === "paper",
      text: sheet?.writer ?? "" }, when];
}

/** @returns {object} what the journal is to sign of a form */
export function draftOf(form) {
  const { step, line, entries, mode, open } = form;
  const when = entries.find((entry) => entry.when)?.value;
  const { hashes } = entries.find((entry) => entry.hashes);
  const values = {};
  for (const { field, value, was } of entries) {
    if (field && value !== undefined && value !== was) values[field.id] = value;
  }
  const photos = [...hashes];
  if (mode === "correct" || mode === "photo") {
    // The reading that stands, not one it was read again instead of.
    let target = open.state.steps[step].lines[line].entry;
    const of = () => open.entries.find(({ id }) => id === target);
    while (of().kind === "correction") ({ target } = of().about);
    const reason = mode === "photo" ? words.photo.added : reasonOf(form);
    const about = { target, reason };
    if (when !== undefined) about.at = when;
    const place = open.sheet.steps[step].series ? "" : line;
    return { kind: "correction", step, line: place, values, about, photos };
  }
  const draft = { kind: "done", step, line, values, at: when, photos };
  const about = mode === "anyway" ? { reason: reasonOf(form) } : {};
  if (!isPaper(form)) {
    return mode === "anyway" ? { ...draft, kind: mode, about } : draft;
  }
  // That a gate forbade it, the rules find by themselves.
  const writer = entries.find((entry) => entry.paper).text.trim().normalize("NFC");
  if (writer) about.writer = writer;
  return { ...draft, kind: "copied", about };
}

/** Whether a form says that it is copied from paper. */
export function isPaper({ entries }) {
  return entries.some((entry) => entry.paper && entry.value);
}

/** Whether what need not be answered is asked all the same, and may be passed over
 * once: what this very line asks for, as the extension of the last round; else nobody
 * types it while the work runs, but from a sheet of paper it is read like the rest. */
export function isOffered(form, { field, value, skipped, asked }) {
  return Boolean(field) && !field.need && value === undefined && !skipped
    && (asked || isPaper(form));
}

/** Photos are asked for but never hold up a reading: its line is unfinished then. */
export function photosWanted(form, { photos }) {
  return Math.max(photos, isPaper(form) ? 1 : 0);
}

function reasonOf({ entries }) {
  return entries.find((entry) => entry.reason).value;
}

/**
 * A jack is not its own spare, and a bar is in one place: items that other rows of a
 * form hold, and those with counted uses, or marked once, that other lines hold.
 */
export function takenBeside(form, active) {
  const beside = form.entries.filter(({ field }) => field?.kind === "item"
    && field !== active.field && field.items === active.field?.items)
    .map(({ value }) => value).filter(Boolean);
  return [...beside, ...onOtherLines(form, active)];
}

// What paper says, or the race, is written down as it is; the rules judge it.
function onOtherLines(form, { field }) {
  const { open, step, line } = form;
  if (field?.kind !== "item" || !open.scene || isPaper(form)) return [];
  if (open.sheet.steps[step].class !== "gated") return [];
  const known = knownItems(open);
  return [...open.scene.lines(step).values()]
    .filter((one) => one.id !== line && !one.discarded)
    .map(({ values }) => values[field.id])
    .filter((id) => field.once || known[id]?.numbers?.uses_max !== undefined);
}
