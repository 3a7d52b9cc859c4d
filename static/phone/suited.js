// What is said beside the options of a choice before any is made: which one an earlier
// step of this subject named, by that step's own word for it, and which the rules take
// with what the form's other answers say. It marks; whoever reads chooses.

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
  form.suiting = setTimeout(() => {
    const keys = [...document.querySelectorAll("#dock .choices [data-value]")];
    const isHere = form.here() && !form.busy && form.entries[form.active] === entry;
    if (!isHere || keys.length !== field.options.length) return;
    const named = namedBefore(form, field);
    const fitting = fittingOf(form, entry);
    keys.forEach((key, place) => {
      const { value } = field.options[place];
      const said = [named?.value === value && named.label,
        fitting.includes(value) && words.means.fits].filter(Boolean).join(" \u00b7 ");
      if (said) key.querySelector(".words").append(h("small", {}, said));
    });
  }, PAUSE_MS);
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
