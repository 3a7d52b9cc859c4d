// Answers of an item's form that are not saved, kept on the phone until they are saved
// or thrown away, as those of a joint's forms are.

import { dropMeta, getMeta, putMeta, transact } from "../../device/database.js";
import { icon } from "../icons.js";
import { h } from "../parts.js";
import { awayButton } from "../unsaved.js";
import { words as shared } from "../words.js";
import { read, rowsAfter } from "./rows.js";
import { words } from "./words.js";

const PLACE = "register/";

/** What stands below the questions while something is not saved. */
export function unsaved(form) {
  const left = async () => {
    form.done = true;
    await dropMeta(form.key);
    form.go("/register");
  };
  return h("div.ask", {}, h("p.careful", { id: "unsaved" }, icon("pen"),
    shared.unsaved.title), awayButton(left));
}

/** @returns {Promise<string[]>} "mode/id" of every form that was left half filled */
export async function leftOver() {
  const keys = await transact(["meta"], "readonly", (store) => store("meta")
    .getAllKeys(IDBKeyRange.bound(PLACE, `${PLACE}\uffff`)));
  return keys.map((key) => key.slice(PLACE.length));
}

/** Where a form's answers are kept. */
export function placeOf(mode, id) {
  return `${PLACE}${mode}/${id}`;
}

/** Keep the answers as they stand. */
export async function keep(form) {
  if (form.done || form.busy) return;
  const answers = form.entries.map((row) => ({ name: nameOf(row), text: row.text,
    value: row.value, ends: row.ends, endless: row.endless, hashes: row.hashes }));
  form.kept = true;
  try {
    await putMeta(form.key, { answers, on: form.was?.entry });
  } catch (fault) {
    form.note = `${shared.joint.unsaved} ${fault.message}`;
  }
}

/** Take up what was kept of a form, if it is of the certificate that still stands; else
 * it is said, and may be thrown away. */
export async function takeUp(form) {
  const kept = await getMeta(form.key);
  if (!kept) return;
  form.kept = true;
  if (kept.on !== form.was?.entry) {
    form.note = words.entering.fault.moved;
    return;
  }
  form.found = true;
  // A kind or a point brings the rows whose answers come after it.
  for (const { name, ...answer } of kept.answers) {
    const row = form.entries.find((one) => nameOf(one) === name);
    if (!row) continue;
    const before = row.value;
    Object.assign(row, answer);
    if (row.reason) row.picker.take(row.value ?? "");
    else if (row.text && !row.day) read(row, form);
    if (row.value !== before) form.entries = rowsAfter(form.entries, row, form);
  }
}

function nameOf({ field, reason }) {
  return field?.id ?? (reason ? "reason" : "photos");
}
