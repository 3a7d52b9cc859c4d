// The key that leads from what a reading raised to its correction.

import { model } from "./model.js";
import { button } from "./parts.js";
import { words } from "./later.js";

/** @param {object} entry that was saved and failed @returns {HTMLElement} */
export function key({ subject, step, line, about, id }) {
  const place = model.open.sheet.steps[step].series ? about?.target ?? id : line;
  const route = ["#/form", subject, step, place || "-", "correct"].join("/");
  return button("plain", { mark: "pen", label: words.line.correct, "data-amends": step,
    onclick: () => { location.hash = route; } });
}
