// A step's caution and help in its forms: whole on the first one of a sitting, on those
// after it the first sentence and the word for help, and a tap shows all.

import { icon } from "./icons.js";
import { model } from "./model.js";
import { h } from "./parts.js";
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
  form.shows ??= { caution: first.get(sitting) === form, help: false };
  const isFirst = first.get(sitting) === form;
  const raced = kind === "raced" && mode !== "correct" ? ".raced" : "";
  const [brief] = caution?.match(SENTENCE) ?? [caution];
  const rest = caution?.slice(brief.length);
  return [
    rest ? fold(form, "caution", `.caution${raced}`, [icon("warn"), brief], rest)
      : caution ? h(`p.caution${raced}`, {}, icon("warn"), caution) : null,
    !help || mode === "photo" ? null : isFirst ? h("p.help", {}, help)
      : fold(form, "help", ".help", [words.form.help], help),
  ];
}

function fold(form, name, kind, brief, rest) {
  const element = h(`details${kind}`, { open: form.shows[name],
    ontoggle: () => { form.shows[name] = element.open; },
  }, h("summary", {}, ...brief), rest);
  return element;
}
