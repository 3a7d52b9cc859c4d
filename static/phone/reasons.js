// Asking for a reason: large ready-made ones first, typing as the last resort.

import { button, fill, h } from "./parts.js";
import { words } from "./words.js";

/**
 * A picker of one reason.
 * @param {string} kind which ready-made reasons @param {() => void} changed
 * @returns {{element:HTMLElement, text:() => string, take:(said:string) => void}}
 */
export function reasonPicker(kind, changed = () => {}) {
  let chosen = "";
  const typed = h("textarea", {
    rows: "2", maxlength: "400", placeholder: words.form.writeHere,
    "aria-label": words.form.why, "data-field": "reason",
    oninput: () => { chosen = ""; show(); changed(); },
  });
  const row = h("div.choices");
  const show = () => fill(row, ...(words.reasons[kind] ?? []).map((text) =>
    button("choice", {
      label: text, mark: text === chosen ? "tick" : "choose",
      "aria-pressed": text === chosen ? "true" : "false",
      onclick: () => { chosen = text; typed.value = ""; show(); changed(); },
    })));
  show();
  return {
    element: h("div.reasons", {}, row, typed),
    text: () => (chosen || typed.value).trim().normalize("NFC"),
    take: (said) => {
      chosen = (words.reasons[kind] ?? []).includes(said) ? said : "";
      typed.value = chosen ? "" : said;
      show();
    },
  };
}
