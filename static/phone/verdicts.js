// What may become of a nonconformance, where a rework starts again, and why: the form
// of whoever proposes or disposes.

import { titleOf } from "./minutes.js";
import { model } from "./model.js";
import { button, h } from "./parts.js";
import { restarts } from "./restarts.js";
import { words } from "./later.js";

const text = words.nonconformance;
const VERDICTS = ["use_as_is", "repair", "rework", "reject"];

/**
 * @param {object[]} every nonconformances decided by one form
 * @param {{verdict:string|null, from:string|null, note:string, reason:object,
 *   every?:boolean}} choice changed here @param {() => void} draw shows it again
 * @returns {(HTMLElement|null)[]}
 */
export function verdictForm(every, choice, draw) {
  return [
    h("div.choices", {}, ...VERDICTS.map((verdict) => button("choice", {
      mark: verdict === choice.verdict ? "tick" : "choose",
      label: text.verdicts[verdict],
      "aria-pressed": verdict === choice.verdict ? "true" : "false",
      // What was chosen, and what it asks for, come into sight.
      "data-verdict": verdict, onclick: () => {
        Object.assign(choice, { verdict, note: "" });
        choice.reason.keep();
        draw();
        document.querySelector(`[data-verdict="${verdict}"]`)?.scrollIntoView();
      },
    }))),
    choice.verdict === "rework" ? restartKeys(model.open, every, choice, draw) : null,
    h("div.field", {}, h("span.flabel", {}, words.form.why), choice.reason.element),
  ];
}

// The keys to choose where a rework starts again; the others are a tap away.
function restartKeys(open, faults, choice, draw) {
  const { about, stages, others } = restarts(open, faults);
  const key = (id) => button("choice", {
    mark: id === choice.from ? "tick" : "choose", label: titleOf(open.sheet, id),
    "aria-pressed": id === choice.from ? "true" : "false", "data-from": id,
    // What was missing is there now.
    onclick: () => {
      Object.assign(choice, { from: id, note: "" });
      choice.reason.keep();
      draw();
    },
  });
  const shut = !choice.every && !others.includes(choice.from);
  return h("div.choices", {}, h("b", {}, text.from),
    about.length ? h("p.hint", {}, text.about) : null, ...about.map(key),
    stages.length ? h("p.hint", {}, text.stages) : null, ...stages.map(key),
    others.length && shut ? button("plain", {
      mark: "plus", label: text.otherStep(others.length), id: "other-steps",
      onclick: () => { choice.every = true; draw(); },
    }) : null,
    ...(shut ? [] : [h("p.hint", {}, text.others), ...others.map(key)]));
}
