// Nonconformances that are told together: what they say and how many they are, once;
// each by itself only for whoever wants to decide some of them now and some later.

import { icon } from "./icons.js";
import { button, h } from "./parts.js";
import { words } from "./later.js";

const text = words.nonconformance;

/**
 * @param {object[]} every nonconformances decided by one form
 * @param {{left:Set<string>, apart:boolean}} choice changed here: `left` are the ids
 *   left for later @param {() => void} draw shows the screen again
 * @param {{groups:object[], titleOf:(fault:object) => string}} how `groups` as
 *   `faultsTogether` tells them
 * @returns {HTMLElement[]}
 */
export function together(every, choice, draw, { groups, titleOf }) {
  const count = text.several(every.length - choice.left.size);
  if (!choice.apart) {
    return [...groups.flatMap(({ where: [step, lines], saids }) => [
      h("h2", {}, step), lines ? h("p", {}, lines) : null,
      ...saids.map((said) => h("p.bad", {}, icon("cross"), said)),
    ]), button("plain", {
      mark: "choose", label: count, note: text.some, id: "apart",
      onclick: () => { choice.apart = true; draw(); },
    })];
  }
  return [h("h2", {}, count), h("p.hint", {}, text.which),
    h("div.choices", {}, ...every.map((each) => {
      const taken = !choice.left.has(each.id);
      return button("choice", {
        mark: taken ? "tick" : "choose", label: titleOf(each),
        "aria-pressed": taken ? "true" : "false", "data-one": each.id,
        onclick: () => {
          if (!choice.left.delete(each.id)) choice.left.add(each.id);
          draw();
        },
      });
    }))];
}
