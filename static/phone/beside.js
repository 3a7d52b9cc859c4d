// What is said beside the questions of a form (their limits) and of a figure before it
// is saved, once what works it out is here: a form is there without.

import { onceLifted } from "./model.js";

let limits = null;
let meaning = null;

/** Say to each question its limits; `late` is told where they come afterwards. */
export function sayLimits(form, late) {
  if (limits) lay(form);
  else {
    Promise.all([import("./limits.js"), import("./meaning.js")]).then((both) => {
      [limits, meaning] = both;
      // A text being typed must not be drawn over; figures keep their keys.
      const typing = form.kept && form.entries[form.active].field?.kind !== "number";
      if (lay(form) && !typing) onceLifted(late);
    }, () => {});
  }
}

/** Say the limits of the question being asked anew, where the others were answered. */
export function sayActive(form) {
  const entry = form.entries[form.active];
  if (limits && form.open.scene && entry?.field) layOne(form, entry);
}

/** What the typed figure would mean, over the keys. @returns {HTMLElement|null} */
export function meansOf(form, entry) {
  return meaning && form.open.scene ? meaning.panel(form, entry) : null;
}

function lay(form) {
  if (!form.open.scene) return false;
  for (const entry of form.entries.filter(({ field }) => field)) layOne(form, entry);
  return true;
}

// A band may rest on the other answers: the pressure on the jack, the extension on the
// pressure.
function layOne(form, entry) {
  const others = JSON.stringify(form.entries.map((one) =>
    (one === entry || !one.field ? 0 : one.value ?? null)));
  if (entry.spanFor === others) return;
  entry.spanFor = others;
  entry.span = limits.spanOf(form, entry.field);
  entry.limit = limits.saidBeside(entry.field, entry.span);
}
