// A sheet of paper that is being copied: the next form takes over that it is, who wrote
// it, its photo and its day, until somebody says otherwise. Meanwhile no tap records
// anything as of now. It lasts as long as the page: a form says what it takes over.

import { model } from "./model.js";
import { button } from "./parts.js";
import { words } from "./words.js";

/** The sheet in hand for a subject. @returns {{writer:string, at:number,
 *   hashes:string[]}|undefined} `at` is the time last copied, `hashes` its photos */
export function copyingOf({ subject }) {
  return model.copying?.subject === subject ? model.copying : undefined;
}

/** Note what a form that was saved said of paper; one that could not say changes
 * nothing. @param {object} form @param {object} entry as signed */
export function noteCopying({ open, entries }, entry) {
  const paper = entries.find((one) => one.paper);
  if (!paper) return;
  const { hashes, photos } = entries.find((one) => one.hashes);
  // A photo that the step itself wants shows something else than the sheet.
  model.copying = paper.value ? {
    subject: open.subject, writer: paper.text, at: entry.at,
    hashes: photos ? copyingOf(open)?.hashes ?? [] : [...hashes],
  } : undefined;
}

/** The key that ends copying, while it goes on. @returns {HTMLElement|null} */
export function copyingKey(open, draw) {
  return copyingOf(open) ? button("plain", {
    mark: "pen", label: words.form.copying, note: words.form.copyingEnd, id: "copying",
    onclick: () => {
      model.copying = undefined;
      draw();
    },
  }) : null;
}
