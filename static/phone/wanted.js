// What a form asks for and may be saved without: it can come later and holds nothing
// up, but the key that saves says that it is missing.

import { isSaving } from "./asking.js";
import { photosWanted } from "./draft.js";
import { h } from "./parts.js";
import { words } from "./later.js";

/** Say on SAVE, once it is drawn with this task, what is still missing. */
export function sayWanted(form) {
  const said = isSaving(form) ? wantedBy(form) : "";
  if (!said) return;
  queueMicrotask(() => document.querySelector('#dock [data-key="go"] span')
    ?.append(h("small", { "data-wanted": "" }, said)));
}

/** @returns {string} what a form asks for and has not, in few words; "" of nothing */
export function wantedBy(form) {
  const fields = form.entries.filter(({ field, value, asked }) => field && asked
    && !field.need && value === undefined).map(({ field }) => field.label);
  const photos = form.entries.find(({ hashes }) => hashes);
  const lacking = photosWanted(form, photos) - photos.hashes.length;
  return [fields.length ? `${words.point.missing}: ${fields.join(", ")}` : "",
    lacking > 0 ? words.photo.missing(lacking) : ""].filter(Boolean).join(" \u00b7 ");
}
