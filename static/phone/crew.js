// Who works on this joint: whoever did part of it or is declared may not release what
// wants somebody independent, and a release they gave lapses. Readings tell by
// themselves; here those are named who take none. A name once declared stays.

import { workers } from "../core/signers.js";
import { sayMissing } from "./missing.js";
import { model } from "./model.js";
import { button, fill, h } from "./parts.js";
import { personName, roleName } from "./speak.js";
import { words } from "./later.js";

const text = words.crew;

/**
 * Ask who is in the crew.
 * @param {{element:HTMLElement, dock:HTMLElement, point:string, left:() => void,
 *   done:(people:string[]) => void}} how
 */
export function askCrew({ element, dock, point, left, done }) {
  const { scene } = model.open;
  const known = workers(scene, scene.view.sheet.points.get(point));
  const chosen = new Set();
  const note = h("p.note", { role: "alert" });
  const draw = () => fill(element, h("p.caution", {}, text.caution),
    h("p", {}, h("b", {}, text.already), " ", namesOf(known)), note,
    h("div.choices", {}, ...Object.keys(model.people).filter((one) => !known.has(one))
      .map((person) => choice(person, chosen, draw))));
  draw();
  element.scrollTop = 0;
  fill(dock, h("div.pair", {},
    button("plain", { mark: "back", label: words.pin.cancel, onclick: left }),
    button("main.blue", { mark: "people", label: text.declare, id: "crew-now",
      onclick: () => {
        sayMissing(note, chosen.size ? "" : text.first);
        if (chosen.size) done([...chosen].sort());
      } })));
}

function namesOf(people) {
  return [...people].map((one) => personName(model.people, one)).join(", ") || "\u2014";
}

function choice(person, chosen, draw) {
  const taken = chosen.has(person);
  return button("choice", {
    mark: taken ? "tick" : "people", label: personName(model.people, person),
    note: model.people[person].roles.map(roleName).join(", "),
    "aria-pressed": taken ? "true" : "false", "data-crew": person,
    onclick: () => {
      if (taken) chosen.delete(person);
      else chosen.add(person);
      draw();
    },
  });
}
