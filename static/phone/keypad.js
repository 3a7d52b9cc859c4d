// Keys for gloved thumbs: figures without the phone's own small keyboard. It reports
// key presses and keeps no text.

import { icon } from "./icons.js";
import { h } from "./parts.js";
import { words } from "./words.js";

/**
 * A pad for figures. The tall key on the right goes on or saves.
 * @param {(key:string) => void} pressed gets "0".."9", ".", "minus", "erase", "go"
 * @param {{signed:boolean, decimal:boolean, go:string, ready:boolean}} options
 * @returns {HTMLElement}
 */
export function figurePad(pressed, { signed, decimal, go, ready }) {
  const key = (name, label, said) => h("button.key", {
    type: "button", "data-key": name, "aria-label": said, onclick: () => pressed(name),
  }, label);
  return h("div.pad", {},
    ...["1", "2", "3"].map((digit) => key(digit, digit)),
    key("erase", icon("erase"), words.pin.erase),
    ...["4", "5", "6"].map((digit) => key(digit, digit)),
    h("button.key.go", {
      type: "button", "data-key": "go", "data-ready": ready ? "yes" : "no",
      onclick: () => pressed("go"),
    }, icon(ready ? "tick" : "now"), h("span", {}, go)),
    ...["7", "8", "9"].map((digit) => key(digit, digit)),
    signed ? key("minus", "\u2212", words.pin.minus) : h("span.key.blank"),
    key("0", "0"),
    decimal ? key(".", ".\u2009,", words.pin.point) : h("span.key.blank"));
}
