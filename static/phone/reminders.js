// A step's caution and help in its forms: whole on the first one of a sitting, on those
// after it the first sentence and the word for help, and a tap shows all.

import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { h } from "./parts.js";
import { tooEarly } from "./turns.js";
import { words } from "./words.js";

/** The form of each step that said it whole, as long as a shift and the page last. */
const first = new Map();
const SENTENCE = /^.*?[.!?](?=\s)/;

/** @returns {(HTMLElement|null)[]} what a form says before its questions */
export function reminders(form) {
  const { open: { sheet, state, subject }, step, mode } = form;
  const { caution, help, class: kind } = sheet.steps[step];
  const sitting = [model.shift?.until, subject, state.attempt, step].join(" ");
  if (!first.has(sitting)) first.set(sitting, form);
  const isFirst = first.get(sitting) === form;
  form.shows ??= { caution: isFirst, help: isFirst };
  const raced = kind === "raced" && mode !== "correct" ? ".raced" : "";
  const [brief] = caution?.match(SENTENCE) ?? [caution];
  return [
    caution ? reminder(form, "caution", raced, brief, [icon("warn"), caution]) : null,
    help && mode !== "photo" ? reminder(form, "help", "", words.form.help, [help])
      : null,
    mode === "correct" ? null : heldBack(form),
  ];
}

// As the joint says it: what is read now is of no use yet.
function heldBack({ open, step }) {
  const early = tooEarly(open);
  return early?.steps.includes(step) ? h("p.careful", { id: "held" }, icon("wait"),
    words.joint.ofUse(dayClockText(early.from))) : null;
}

function reminder(form, name, kind, brief, said) {
  const whole = h(`p.${name}${kind}`, {}, ...said);
  if (form.shows[name] || brief === said.at(-1)) return whole;
  const all = () => {
    form.shows[name] = true;
    element.replaceWith(whole);
  };
  const element = h(`details.${name}${kind}`, { ontoggle: all }, h("summary", {},
    name === "caution" ? icon("warn") : null, brief));
  return element;
}
