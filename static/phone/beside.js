// What is said beside the questions of a form (their limits) and of a figure before it
// is saved, once what works it out is here: a form is there without.

import { onceLifted } from "./model.js";

let judged = null;
let meaning = null;
let won = null;

/** Say to each question its limits; `late` is told where they come afterwards. */
export function sayLimits(form, late) {
  if (judged) lay(form);
  else {
    Promise.all([import("./judged.js"), import("./meaning.js"),
      import("./won.js")]).then((all) => {
      [judged, meaning, won] = all;
      // A text being typed must not be drawn over; figures keep their keys.
      const typing = document.activeElement?.matches("textarea, input");
      if (lay(form) && !typing) onceLifted(late);
    }, () => {});
  }
}

/** That the race was won, in the place of its minutes. @returns {HTMLElement|null} */
export const justWon = (open) => won?.justWon(open) ?? null;

/** Say the limits of the question being asked anew, where the others were answered; of
 * those not asked now once another is: each key of a figure would be slow for that. */
export function sayActive(form) {
  const entry = form.entries[form.active];
  if (!judged || !form.open.scene) return;
  if (entry?.field) layOne(form, entry);
  if (form.laid === form.active && entry?.field?.kind === "number") return;
  form.laid = form.active;
  lay(form);
}

/** What the typed figure would mean, over the keys. @returns {HTMLElement|null} */
export function meansOf(form, entry) {
  return meaning && form.open.scene ? meaning.panel(form, entry) : null;
}

/** What saving would raise, where no figure being typed says it.
 * @returns {HTMLElement|null} */
export function warningOf(form, entry) {
  return meaning && form.open.scene ? meaning.warning(form, entry) : null;
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
  if (entry.spanFor !== others) {
    entry.spanFor = others;
    Object.assign(entry, judged.boundsOf(form, entry.field));
  }
  Object.assign(entry, judged.told(form, entry));
}
