// Keys for gloved thumbs: figures without the phone's own small keyboard. It reports
// key presses and keeps no text.

import { icon } from "./icons.js";
import { fill, h } from "./parts.js";
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

/**
 * A pad for a PIN of six digits: nothing shows but how many are typed.
 * @param {(pin:string) => void} full called when the sixth digit is in
 * @returns {{element:HTMLElement, clear:() => void}}
 */
export function pinPad(full) {
  let typed = "";
  const dots = h("div.dots", { role: "img" });
  const show = () => {
    dots.setAttribute("aria-label", words.pin.typed(typed.length));
    fill(dots, ...Array.from({ length: 6 }, (_, place) =>
      h(place < typed.length ? "i.dot.full" : "i.dot")));
  };
  const press = (digit) => {
    if (typed.length === 6) return;
    typed += digit;
    show();
    if (typed.length === 6) full(typed);
  };
  const erase = () => { typed = typed.slice(0, -1); show(); };
  const key = (digit) => h("button.key", {
    type: "button", "data-key": digit, onclick: () => press(digit),
  }, digit);
  const onkeydown = (event) => {
    if (/^\d$/.test(event.key)) press(event.key);
    if (event.key === "Backspace") erase();
  };
  const element = h("div.pinpad", { tabindex: "-1", onkeydown }, dots,
    h("div.pad.three", {}, ..."123456789".split("").map(key), h("span.key.blank"),
      key("0"), h("button.key.erase", {
        type: "button", "aria-label": words.pin.erase, onclick: erase,
      }, icon("erase"))));
  show();
  return { element, clear: () => { typed = ""; show(); } };
}
