// What a point's own lines name and is out of use, for whoever signs: it was fit when
// it was recorded, and may stand in the joint broken. Said, never forbidden: what was
// read before stays.

import { siteEntries } from "../device/book.js";
import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { knownItems } from "./items.js";
import { fill, h } from "./parts.js";
import { words } from "./later.js";

const text = words.hanging;

/** @param {object} open @param {string} point @returns {HTMLElement|null} */
export function outNote(open, point) {
  const known = knownItems(open);
  const out = [...namedIn(open, open.sheet.points[point].covers)]
    .filter((name) => known[name]?.out !== undefined);
  if (out.length === 0) return null;
  const place = h("div", { id: "out-of-use" });
  const show = (since = new Map()) => fill(place, ...out.map((name) => {
    const { label, entry, out: why } = known[name];
    const at = since.get(entry);
    return h("p.careful", { "data-item": name }, icon("warn"),
      [`${label}: ${at ? text.outSince(dayClockText(at)) : text.out}`, why]
        .filter(Boolean).join(": "));
  }));
  show();
  siteEntries().then((told) => show(new Map(told.map(({ id, at }) => [id, at]))))
    .catch(reportError);
  return place;
}

function namedIn({ sheet, state }, steps) {
  return new Set(steps.flatMap((step) => {
    const lines = Object.values(state.steps[step]?.lines ?? {})
      .filter(({ status }) => status !== "discarded");
    return (sheet.steps[step].fields ?? []).filter(({ kind }) => kind === "item")
      .flatMap(({ id }) => lines.map(({ values }) => values?.[id]));
  }));
}
