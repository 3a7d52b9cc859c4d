// What a STOP card has thrown away: the lines of the steps it names (kits that were
// mixed), each chosen by one tap and discarded by the next, which says why.

import { clockText } from "../device/clock.js";
import { isOfKit } from "./line.js";
import { model } from "./model.js";
import { button, h } from "./parts.js";
import { signOnce } from "./signing.js";
import { lineLabel, readings } from "./speak.js";
import { words } from "./later.js";

const text = words.lost;

/** @param {object} open @param {{discards:string[]}} card
 * @returns {{step:string, line:string, read:object}[]} what was recorded and stands */
export function inHand({ state }, { discards = [] }) {
  return recorded(state, discards).filter(({ read }) => read.status !== "discarded");
}

function recorded(state, steps) {
  return steps.flatMap((step) => Object.entries(state.steps[step]?.lines ?? {})
    .map(([line, read]) => ({ step, line, read })));
}

/** The same as keys, what was discarded below. @returns {HTMLElement|null} */
export function discardable(open, card, view) {
  const { sheet, state, subject } = open;
  const all = recorded(state, card.discards);
  const isGone = ({ read }) => read.status === "discarded";
  const lines = [...all.filter((one) => !isGone(one)), ...all.filter(isGone)];
  const on = ({ step, line }) => sheet.clocks.filter(({ per_line: each, start }) =>
    each && start === step).map(({ until }) => [until, state.steps[until]?.lines[line]])
    .filter(([, read]) => read && read.status !== "discarded")
    .map(([until, { at }]) => `${sheet.steps[until].title} ${clockText(at)}`);
  return lines.length === 0 ? null : h("div", { id: "card-discards" },
    h("h2", {}, text.which), h("div.choices", {}, ...lines.flatMap((one) => {
      const { step, line, read } = one;
      const reasons = words.reasons[isOfKit(open, step) ? "discarded_kit"
        : "discarded"];
      return [button("choice", {
        mark: isGone(one) ? "cross" : "choose", label: lineLabel(sheet, step, line),
        "data-line": line, "data-step": step,
        note: [isGone(one) ? words.state.discarded : text.recorded(clockText(read.at)),
          ...on(one), ...readings(sheet, step, read.values)].join(" \u00b7 "),
        onclick: () => (isGone(one) || !model.shift
          ? view.go(model.shift ? `/line/${subject}/${step}/${line || "-"}` : "/people")
          : view.choose(`${step}/${line}`)),
      }), ...(view.asked === `${step}/${line}` && !isGone(one)
        ? discardKeys(open, step, line, reasons, view) : [])];
    })));
}

/** A key for each reason to discard a line with, and the way to all of it.
 * @returns {HTMLElement[]} */
export function discardKeys({ subject }, step, line, reasons, view) {
  return [...reasons.map((reason) => button("choice.stopreason", {
    mark: "cross", label: reason, note: words.line.discard, "data-reason": reason,
    onclick: () => {
      view.choose("");
      signOnce({ kind: "discarded", step, line, about: { reason } }, model.shift);
    },
  })), button("plain", {
    mark: "note", label: words.line.history, id: "to-line",
    onclick: () => view.go(`/line/${subject}/${step}/${line || "-"}`),
  })];
}
