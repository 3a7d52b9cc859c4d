// Which answer of a form is asked next, and when it may be saved. It draws nothing.

import { isOffered, isPaper, photosWanted } from "./draft.js";
import { model } from "./model.js";
import { restsOn } from "./reading.js";

/**
 * The place of the answer that a form begins with. A correction begins with the figure
 * that failed, else with the first figure: seldom is it the jack that was misread.
 */
export function firstAsked(form) {
  if (form.mode !== "correct") return nextOpen(form) ?? 0;
  const { open, step, line, entries } = form;
  const { failed = [], cautions = [] } = open.state.steps[step].lines[line] ?? {};
  const checks = (open.sheet.steps[step].checks ?? [])
    .filter(({ id }) => failed.includes(id) || cautions.includes(id));
  const isFigure = ({ field, value }) =>
    field?.kind === "number" && value !== undefined;
  const wrong = entries.findIndex((entry) => isFigure(entry)
    && checks.some((check) => restsOn(open, step, check, entry.field)));
  return Math.max(0, wrong < 0 ? entries.findIndex(isFigure) : wrong);
}

/** The place of the answer to ask next: needed ones after this, then from the top. */
export function nextOpen(form) {
  const wanted = form.entries.map((entry, place) => ({ entry, place }))
    .filter(({ entry }) => (entry.hashes
      ? entry.hashes.length < photosWanted(form, entry)
      : isOffered(form, entry)
        || (isNeeded(form, entry) && entry.value === undefined)));
  const later = wanted.find(({ place }) => place > form.active) ?? wanted[0];
  return later?.place;
}

/** Whether all that is needed is answered, and nothing wrongly. */
export function isComplete(form) {
  return form.entries.every((entry) => !entry.fault
    && (!isNeeded(form, entry) || entry.value !== undefined)
    && (form.mode !== "photo" || entry.hashes.length > 0));
}

/** Whether the key saves: nothing else is to be asked, or only what is asked now. */
export function isSaving(form) {
  const wanted = nextOpen(form);
  return isComplete(form) && (wanted === undefined || wanted === form.active);
}

function isNeeded(form, entry) {
  return entry.reason || Boolean(entry.field?.need)
    || (entry.when && (isPaper(form) || Boolean(model.clockBack)));
}
