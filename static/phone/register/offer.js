// What stores hold in hand and no list has is entered from the form that asks for it,
// which waits meanwhile.

import { model } from "../model.js";
import { button } from "../parts.js";
import { words } from "./words.js";

/** Whether whoever records now may enter items. @returns {boolean} */
export function mayRegister() {
  return Boolean(model.people[model.shift?.person]?.roles
    .some((role) => model.registrars?.includes(role)));
}

/** The key to the register, for whoever may. @param {string} typed as its label */
export function offer(typed) {
  if (!mayRegister()) return null;
  return button("plain", { mark: "plus", label: words.register.enter, id: "enter-item",
    onclick: () => {
      model.registerFor = location.hash.slice(1);
      location.hash = `/register/new/${encodeURIComponent(typed)}`;
    } });
}
