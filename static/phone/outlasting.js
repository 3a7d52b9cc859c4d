// What an ended attempt left behind that no decision ends: adhesive sets on until it is
// off the faces. Its last deadlines stay in sight until what the new attempt begins
// with is recorded. The rules say which; this only shows them.

import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { deadlinesOf } from "./minutes.js";
import { h } from "./parts.js";
import { lineLabel, spanText } from "./speak.js";
import { words } from "./words.js";

const text = words.minutes;
/** Over by so much is what the rules make of a time that is not known. */
export const NOT_KNOWN_MS = 10 * 365 * 86_400_000;

/**
 * @param {{sheet:object, state:object, asOf:number}} open @param {number} now ms UTC
 * @returns {{id:string, title:string, text?:string, at:number, past:boolean,
 *   known:boolean}[]} the soonest first; `id` is never that of a running clock
 */
export function outlasting({ sheet, state, asOf }, now) {
  const found = (state.outlasting ?? []).flatMap((one) => {
    const clock = sheet.clocks.find(({ id }) => id === one.clock);
    const line = one.line ? lineLabel(sheet, clock.start, one.line) : "";
    return deadlinesOf(clock, one, asOf).map((each) => ({
      ...each,
      id: ["ended", one.attempt?.slice(0, 8), each.id, one.line]
        .filter(Boolean).join("."),
      title: [line, each.title].filter(Boolean).join(" \u00b7 "),
      past: each.at <= now,
      known: now - each.at < NOT_KNOWN_MS,
    }));
  });
  return found.sort((a, b) => a.at - b.at);
}

/** The next of them in the size of the chalk, or what its end means. */
export function outlastingStrip(open, now) {
  const all = outlasting(open, now);
  if (all.length === 0) return null;
  const next = all.find(({ past }) => !past) ?? all.at(-1);
  const at = next.known ? dayClockText(next.at) : "\u2014";
  return h("div", { id: "outlasting" },
    h(`div.chalk.${next.past ? "red" : "yellow"}`, {},
      h(`span.chalktime${at.includes(" ") ? ".day" : ""}`, {}, at),
      h("span.chalkwords", {}, h("b", {}, next.title), h("span", {},
        next.past ? next.known ? text.over : text.notKnown : spanText(next.at - now)))),
    next.text ? h(`p.${next.past ? "bad" : "careful"}`, {}, icon("warn"), next.text)
      : null,
    h("p.hint", {}, text.outlasts(beginsWith(open.sheet))));
}

function beginsWith({ flow, steps }) {
  return flow.filter((id) => steps[id]?.again).map((id) => steps[id].title).join(", ");
}
