// What is said beside the options of a choice before any is made: what the sheet tells
// of each, as an adhesive's window; which one an earlier step of this subject named, by
// that step's own word for it, and which the rules take with what the form's other
// answers say. It marks; whoever reads chooses.

import { h } from "./parts.js";
import { restsOn } from "./reading.js";
import { words } from "./later.js";
import { foreseen, withAnswer } from "./meaning.js";

/** Drawn first: each option is judged by the rules. */
const PAUSE_MS = 100;

/** Mark the options of the choice that a form asks. */
export function suit(form, entry) {
  const { field } = entry;
  clearTimeout(form.suiting);
  if (field?.kind !== "choice") return;
  // As soon as the keys are drawn: they must not grow under a thumb.
  queueMicrotask(() => mark(form, entry, ({ label }) =>
    form.open.sheet.facts?.find((fact) => fact.label === label)?.value));
  form.suiting = setTimeout(() => {
    if (!form.here() || form.busy) return;
    const named = namedBefore(form, field);
    const fitting = fittingOf(form, entry);
    mark(form, entry, ({ value }) => [named?.value === value && named.label,
      fitting.includes(value) && words.means.fits].filter(Boolean).join(" \u00b7 "));
  }, PAUSE_MS);
}

// Drawn twice in one go, the same keys are told the same twice.
function mark(form, entry, saidOf) {
  const { options } = entry.field;
  const keys = [...document.querySelectorAll("#dock .choices [data-value]")];
  if (form.entries[form.active] !== entry || keys.length !== options.length) return;
  keys.forEach((key, place) => {
    const said = saidOf(options[place]);
    if (said && !key.textContent.includes(said)) {
      key.querySelector(".words").append(h("small", {}, said));
    }
  });
}

/** @returns {{label:string, value:number}|undefined} the same choice made in a step
 *   before, as an adhesive planned the day before */
export function namedBefore({ open: { sheet, state }, step }, field) {
  const options = JSON.stringify(field.options);
  const earlier = sheet.flow.slice(0, Math.max(0, sheet.flow.indexOf(step)));
  return earlier.flatMap((one) => (sheet.steps[one]?.fields ?? [])
    .filter((other) => other.kind === "choice" && isTelling(other)
      && JSON.stringify(other.options) === options)
    .flatMap((other) => Object.values(state.steps[one].lines)
      .map(({ values }) => ({ label: other.label, value: values?.[other.id] })))
    .filter(({ value }) => value !== undefined)).at(-1);
}

// Whether all was well was asked before as well: that is no plan for the next.
function isTelling({ options }) {
  return options.every(({ good }) => good === undefined);
}

// Only what was judged with figures: all above it is answered, and another would fail.
function fittingOf(form, entry) {
  const { open, step, entries } = form;
  const above = entries.slice(0, entries.indexOf(entry)).filter(({ field }) => field);
  const figures = above.filter(({ field }) => field.kind === "number");
  const checks = (open.sheet.steps[step].checks ?? []).filter((check) =>
    check.raises !== "caution" && restsOn(open, step, check, entry.field)
    && figures.some(({ field }) => restsOn(open, step, check, field)));
  const isRead = above.every(({ field, value }) => !field.need || value !== undefined);
  if (!isRead || !checks.length || !open.scene) return [];
  const ids = new Set(checks.map(({ id }) => id));
  return entry.field.options.map(({ value }) => value).filter((value) =>
    !foreseen(withAnswer(form, entry, value)).checks.some(({ id }) => ids.has(id)));
}
