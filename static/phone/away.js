// Stands in for a screen that is not on this phone yet.

import { fill, h } from "./parts.js";
import { words } from "./words.js";

export const title = () => words.phone.title;

/** @returns {() => void} */
export function mount(element) {
  fill(element, h("p.careful", {}, words.phone.away));
  return () => {};
}
