// A label at the face: read over the form that asks for an item, and refused in words
// if it is foreign, damaged, or no item's.

import { readMark } from "../../device/roads/marks.js";
import { closeOver, openOver } from "../over.js";
import { button, fill, h } from "../parts.js";
import { finder } from "./finder.js";
import { words } from "./words.js";

const text = words.marks;

/**
 * Read an item's label.
 * @param {string} site this phone's
 * @returns {Promise<string|null>} the item's id, or null if put away
 */
export function scanLabel(site) {
  return new Promise((resolve) => {
    const leave = (id) => {
      view.stop();
      closeOver();
      resolve(id);
    };
    const view = finder((read) => {
      const mark = readMark(read, site);
      if (mark.kind === "item") leave(mark.id);
      else view.say(text[mark.fault ?? "wrong"]);
    });
    fill(openOver(() => leave(null)), h("section.sheet", {
      role: "dialog", "aria-modal": "true", "aria-label": text.aim, id: "label-scan",
    }, h("h2", {}, text.aim), view.element,
    button("plain", { mark: "back", label: text.cancel, onclick: () => leave(null) })));
  });
}

/**
 * What a typed or scanned-in text says of an item.
 * @returns {{id:string}|{fault:string}|null} null: not the text of a printed label
 */
export function labelTyped(typed, site) {
  if (!/^FR1:/i.test(typed)) return null;
  const read = typed.replace(/^fr1:(\w+):/i, (head) => head.toUpperCase());
  const mark = readMark(read, site);
  return mark.kind === "item" ? { id: mark.id }
    : { fault: text[mark.fault ?? "wrong"] };
}
