// The choice of a language: one key each, in its own words.

import { model } from "./model.js";
import { button, h } from "./parts.js";
import { setSetting } from "./settings.js";
import { LANGUAGES, languageOf, speak, words } from "./words.js";

let away = false;

/** Keys to choose the language with. @param {() => void} after told when it changed */
export function languageKeys(after) {
  const now = languageOf(model.settings.language);
  return h("div", { role: "group", "aria-label": words.phone.language },
    h("div.three", {}, ...Object.entries(LANGUAGES).map(([id, name]) =>
      button(`plain${id === now ? ".on" : ""}`, {
        mark: id === now ? "tick" : "choose", label: name, lang: id,
        "aria-pressed": id === now ? "true" : "false", "data-language": id,
        onclick: () => choose(id, after),
      }))),
    away ? h("p.careful", { role: "alert" }, words.phone.away) : null);
}

async function choose(language, after) {
  away = !(await speak(language));
  if (!away) await setSetting("language", language);
  after();
}
