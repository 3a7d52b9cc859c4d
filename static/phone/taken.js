// What a form or one tap takes over from the line before, and says so on its key.

import { carriedOver } from "./carry.js";
import { copyingOf } from "./copying.js";
import { knownItems, unfit } from "./items.js";
import { model } from "./model.js";
import "./named.js";
import { h } from "./parts.js";

/** What a line takes over from this phone's last and may be used still. */
export function takenOver(open, step, line, field) {
  return carriedOver(open, step, line, field, model.identity?.device, (name) =>
    unfit(knownItems(open)[name], field, copyingOf(open)?.at));
}

/** The labels of the items among a line's values: which lot a tap takes with it.
 * @returns {string} */
export const takenWith = (open, step, values) =>
  (open.sheet.steps[step].fields ?? []).filter(({ kind }) => kind === "item")
    .map(({ id }) => knownItems(open)[values[id]]?.label).filter(Boolean)
    .join(" \u00b7 ");

/** Say on the key of a target, once it is drawn with this task, with which jack. */
export function sayTaken({ open, step, entries }) {
  const values = Object.fromEntries(entries.filter(({ field }) => field)
    .map(({ field, value }) => [field.id, value]));
  const said = takenWith(open, step, values);
  if (!said) return;
  queueMicrotask(() => document.querySelector("#dock .target .words:not(:has(.taken))")
    ?.append(h("small.taken", {}, said)));
}
