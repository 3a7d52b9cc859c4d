// A code on an item, read as its label: a maker's own, or one this site has printed.

import { readMark } from "../../device/roads/marks.js";
import { model } from "../model.js";
import { closeOver, openOver } from "../over.js";
import { button, fill, h } from "../parts.js";
import { finder } from "../roads/finder.js";
import { words as roads } from "../roads/words.js";
import { words } from "./words.js";

const text = words.entering;

/**
 * Read a code. @param {{items:object[]}} known
 * @returns {Promise<{text:string}|{fault:string}|null>} null: put away
 */
export function labelText(known) {
  return new Promise((resolve) => {
    const leave = (found) => {
      view.stop();
      closeOver();
      resolve(found);
    };
    const view = finder((read) => leave(labelOf(read, known)));
    fill(openOver(() => leave(null)), h("section.sheet", {
      role: "dialog", "aria-modal": "true", "aria-label": text.scanTitle,
      id: "label-scan",
    }, h("h2", {}, text.scanTitle), view.element, button("plain", { mark: "back",
      label: roads.marks.cancel, onclick: () => leave(null) })));
  });
}

// A label of this site names an item of the register: entered here again, under
// another id, it would be two.
function labelOf(read, { items }) {
  const mark = readMark(read, model.identity?.site);
  if (mark.fault === "stranger") return { text: read.trim().replaceAll(/\s+/g, " ") };
  const found = items.find(({ id }) => id === mark.id);
  if (found) return { fault: text.fault.taken(found.label) };
  return { fault: mark.kind === "item" ? text.fault.printed : text.fault.foreign };
}
