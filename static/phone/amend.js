// What is said of an entry just saved, once it is here: the key that leads from what it
// raised to its correction, and that a time it states does not count.

import { hourTexts } from "./backwards.js";
import { changed, model } from "./model.js";
import { button, h } from "./parts.js";
import { words } from "./later.js";

/** @param {HTMLElement} element the notice @param {object} said what it says */
export function add(element, said) {
  if (said.wrong) element.append(key(said.entry));
  const hours = said.entry && !said.hour ? hourTexts(model.open, said.entry) : [];
  if (!hours.length) return;
  said.hour = true;
  said.lines.push(...hours);
  if (said.tone === "green") said.tone = "yellow";
  element.append(...hours.map((one) => h("p", {}, one)));
  // It is read aloud as well.
  changed();
}

/** @param {object} entry that was saved and failed @returns {HTMLElement} */
function key({ subject, step, line, about, id }) {
  const place = model.open.sheet.steps[step].series ? about?.target ?? id : line;
  const route = ["#/form", subject, step, place || "-", "correct"].join("/");
  return button("plain", { mark: "pen", label: words.line.correct, "data-amends": step,
    onclick: () => { location.hash = route; } });
}
