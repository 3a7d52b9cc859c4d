// Keys for a PIN, with gloves too. It keeps what is typed only until it is whole.

import { monoMs } from "../device/clock.js";
import { icon } from "./icons.js";
import { fill, h, holdOff } from "./parts.js";
import { words } from "./words.js";

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
  // It comes under the key just tapped: a second tap is no digit.
  holdOff(element, monoMs());
  return { element, clear: () => { typed = ""; show(); } };
}
