// A release given by word of mouth, where the plan allows it: who said it, who else
// heard it, and the words read back. It is to be signed within the time the plan sets.

import { releaseRefusals } from "../core/rules.js";
import { icon } from "./icons.js";
import { sayMissing } from "./missing.js";
import { model } from "./model.js";
import { button, fill, h } from "./parts.js";
import { postOf } from "./pin.js";
import { fits, listed } from "./releases.js";
import { personName, refusalText } from "./speak.js";
import { words } from "./later.js";

const text = words.spoken;
const SHORTEST = 3;

/**
 * Ask for a spoken release.
 * @param {{element:HTMLElement, dock:HTMLElement, point:string, left:() => void,
 *   done:(about:object) => void}} how
 */
export function askSpoken({ element, dock, point, left, done }) {
  // Whose signature is there already has nothing more to say.
  const missing = listed(model.open, point).filter(({ entry }) => !entry);
  const everybody = Object.keys(model.people);
  const may = everybody.filter((one) => missing.some(({ wanted }) => fits(one, wanted))
    && releaseRefusals(model.open.scene, point, one).length === 0);
  const about = { said_by: undefined, heard_by: undefined };
  const said = h("textarea", { rows: "3", maxlength: "400", placeholder: text.words,
    "aria-label": text.words, id: "spoken-words" });
  const note = h("p.note", { role: "alert" });
  const draw = () => {
    if (about.heard_by === about.said_by) about.heard_by = undefined;
    const others = everybody.filter((one) => one !== about.said_by
      && one !== model.shift?.person);
    fill(element, h("p.caution", {}, text.caution),
      may.length ? null : h("p.bad", {}, text.nobody),
      ...(may.length ? [] : why(point)),
      ...who("said_by", may, about, draw), ...who("heard_by", others, about, draw),
      h("b", {}, text.back), said, note);
  };
  draw();
  element.scrollTop = 0;
  fill(dock, h("div.pair", {},
    button("plain", { mark: "back", label: words.pin.cancel, onclick: left }),
    button("main.blue", { mark: "call", label: text.record, id: "spoken-now",
      onclick: () => {
        const back = said.value.trim().normalize("NFC");
        const whole = about.said_by && about.heard_by && back.length >= SHORTEST;
        sayMissing(note, whole ? "" : text.first);
        if (whole) done({ ...about, text: back });
      } })));
}

function why(point) {
  const { sheet, state } = model.open;
  return (state.points[point].refusals ?? []).map((one) =>
    h("p.careful", {}, icon("lock"), refusalText(one, sheet, model.people, state)));
}

function who(field, people, about, draw) {
  return [h("b", {}, text[field]), h("div.choices", {}, ...people.map((person) =>
    button("choice", {
      mark: person === about[field] ? "tick" : "people",
      label: personName(model.people, person), note: postOf(person),
      "aria-pressed": person === about[field] ? "true" : "false",
      [`data-${field.replace("_", "-")}`]: person,
      onclick: () => { about[field] = person; draw(); },
    })))];
}
