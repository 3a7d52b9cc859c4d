// A figure drawn upon the band it should keep.

import { quantityText } from "./numbers.js";
import { h } from "./parts.js";

const NEAR_PERCENT = 14;

/** A line of figures: the band upon it, the cap, and where this one stands. */
export function scale({ low, high, never }, value, { places }) {
  const ends = [low, high, never].filter((one) => one !== undefined);
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const wide = Math.max(most - least, Math.abs(most) / 10, 1);
  const [from, to] = low !== undefined && high !== undefined
    ? [least - wide * 0.7, most + wide * 0.7] : fromNought(least, most, value);
  const at = (one) =>
    100 * Math.min(0.985, Math.max(0.015, (one - from) / (to - from)));
  const band = [low === undefined ? 0 : at(low), high === undefined ? 100 : at(high)];
  // Ends so near to one another would stand one upon the other.
  const near = band[1] - band[0] < NEAR_PERCENT;
  const mark = (sort, one, said = quantityText(one, "", places)) =>
    placed(h(`b.${sort}`, {}, said), at(one));
  return h("div.scale", { "aria-hidden": "true" },
    placed(h("i.band"), band[0], band[1] - band[0]),
    low === undefined ? null : mark(`end${near ? ".before" : ""}`, low),
    high === undefined ? null : mark(`end${near ? ".after" : ""}`, high),
    never === undefined ? null : mark("cap", never), mark("hand", value, ""));
}

// Of one end, where a figure stands is seen by how far both are from nought.
function fromNought(least, most, value) {
  const far = Math.max(Math.abs(least), Math.abs(most), 1) * 0.5;
  return [Math.min(0, value, least < 0 ? least - far : 0),
    Math.max(most + far, value)];
}

function placed(element, left, width) {
  element.style.left = `${left}%`;
  if (width !== undefined) element.style.width = `${width}%`;
  return element;
}
